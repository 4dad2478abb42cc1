"""A small client of a YAML language server: JSON-RPC over its standard input and output, as an editor speaks it."""

from __future__ import annotations

import json
import queue
import shutil
import subprocess
import threading
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import IO, Any

HERE = Path(__file__).parent
SERVER = HERE / "node_modules" / "yaml-language-server" / "bin" / "yaml-language-server"
PATIENCE = 30.0
SETTINGS = {
    "yaml": {
        "validate": True,
        "hover": True,
        "completion": True,
        "schemaStore": {"enable": False, "url": ""},
        "kubernetesCRDStore": {"enable": False},
        "schemas": {},
    }
}


class NotInstalled(Exception):
    """The server or the program that runs it is not there; the text says how to get it."""


class LanguageServer:
    """One server, from its start until it is closed."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [_node(), str(SERVER), "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        self._heard: queue.Queue[dict[str, Any]] = queue.Queue()
        self._number = 0
        threading.Thread(target=self._listen, daemon=True).start()
        self.ask("initialize", {"processId": None, "rootUri": None, "capabilities": _CAPABILITIES})
        self.tell("initialized", {})
        self.tell("workspace/didChangeConfiguration", {"settings": SETTINGS})

    def close(self) -> None:
        """End the server."""
        self._process.kill()
        self._process.wait(timeout=PATIENCE)
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                pipe.close()

    # --- what an editor does ----------------------------------------------------------------------------------------

    def open(self, path: Path, text: str) -> str:
        """Show a text to the server as the content of a file; its address."""
        address = path.as_uri()
        document = {"uri": address, "languageId": "yaml", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})
        return address

    def problems(self, address: str) -> list[dict[str, Any]]:
        """What the server next says is wrong with a file."""
        for message in self._messages():
            if message.get("method") == "textDocument/publishDiagnostics" and message["params"]["uri"] == address:
                return list(message["params"]["diagnostics"])
        raise AssertionError("the server said nothing of this file")

    def completion(self, address: str, line: int, column: int) -> list[str]:
        """What could stand at a place, which is counted from 0."""
        found = self.ask("textDocument/completion", _at(address, line, column))
        items = found["items"] if isinstance(found, dict) else found or []
        return [str(each["label"]) for each in items]

    def hover(self, address: str, line: int, column: int) -> str:
        """What is shown of the word at a place, which is counted from 0; nothing where nothing is."""
        found = self.ask("textDocument/hover", _at(address, line, column))
        return "" if found is None else str(found["contents"]["value"])

    # --- the protocol -----------------------------------------------------------------------------------------------

    def ask(self, method: str, params: Mapping[str, Any]) -> Any:
        """A request, and its result."""
        self._number += 1
        number = self._number
        self._send({"id": number, "method": method, "params": params})
        for message in self._messages():
            if message.get("id") == number and "method" not in message:
                assert "error" not in message, message["error"]
                return message.get("result")
        raise AssertionError(f"the server did not answer {method}")

    def tell(self, method: str, params: Mapping[str, Any]) -> None:
        """A notification."""
        self._send({"method": method, "params": params})

    def _send(self, message: Mapping[str, Any]) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode("utf-8")
        stream = self._process.stdin
        assert stream is not None
        stream.write(b"Content-Length: %d\r\n\r\n%b" % (len(body), body))
        stream.flush()

    def _messages(self) -> Iterator[dict[str, Any]]:
        """What the server says, until it has been silent for too long; its own questions are answered."""
        end = time.monotonic() + PATIENCE
        while (left := end - time.monotonic()) > 0:
            try:
                message = self._heard.get(timeout=left)
            except queue.Empty:
                return
            if "method" in message and "id" in message:
                self._send({"id": message["id"], "result": _reply(message)})
            else:
                yield message

    def _listen(self) -> None:
        stream = self._process.stdout
        assert stream is not None
        while (body := _body(stream)) is not None:
            self._heard.put(json.loads(body))


_CAPABILITIES = {
    "textDocument": {
        "completion": {"completionItem": {"snippetSupport": True}},
        "hover": {"contentFormat": ["markdown", "plaintext"]},
        "publishDiagnostics": {},
    },
    "workspace": {"configuration": True, "didChangeConfiguration": {"dynamicRegistration": False}},
}


def _reply(message: Mapping[str, Any]) -> Any:
    """The settings of the part that is asked for; nothing to any other question."""
    if message["method"] != "workspace/configuration":
        return None
    return [SETTINGS.get(str(item.get("section")), {}) for item in message["params"]["items"]]


def _body(stream: IO[bytes]) -> bytes | None:
    length = 0
    while (line := stream.readline()) not in (b"\r\n", b""):
        name, _, value = line.partition(b":")
        if name.lower() == b"content-length":
            length = int(value)
    return stream.read(length) if length else None


def _at(address: str, line: int, column: int) -> dict[str, Any]:
    return {"textDocument": {"uri": address}, "position": {"line": line, "character": column}}


def _node() -> str:
    node = shutil.which("node")
    if node is None:
        raise NotInstalled("These tests need node: install it (https://nodejs.org), then run npm ci in tests/editor.")
    if not SERVER.is_file():
        raise NotInstalled("These tests need the YAML language server: run npm ci in tests/editor.")
    return node
