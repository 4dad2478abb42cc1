"""Pieces that feed one another in a ring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from checker.site.model import DrawingNotice, Feed

_Graph = Mapping[str, Sequence[str]]


def rings(feeds: Sequence[Feed]) -> Iterator[DrawingNotice]:
    """A notice for every set of pieces of which each is fed, over others, by each."""
    forward = _graph((feed.source, feed.to) for feed in feeds)
    backward = _graph((feed.to, feed.source) for feed in feeds)
    ring_of = _components(forward, backward)
    members: dict[str, list[Feed]] = {}
    for feed in feeds:
        if ring_of[feed.source] == ring_of[feed.to]:
            members.setdefault(ring_of[feed.source], []).append(feed)
    for inside in members.values():
        tags = tuple(dict.fromkeys(feed.to for feed in inside))
        yield DrawingNotice(_sentence(tags), inside[0].at, tags)


def _sentence(tags: Sequence[str]) -> str:
    if len(tags) == 1:
        return f"{tags[0]} feeds itself."
    return f"{', '.join(tags[:-1])} and {tags[-1]} feed one another in a ring."


def _graph(edges: Iterable[tuple[str, str]]) -> _Graph:
    graph: dict[str, list[str]] = {}
    for start, end in edges:
        graph.setdefault(start, []).append(end)
        graph.setdefault(end, [])
    return graph


def _components(forward: _Graph, backward: _Graph) -> dict[str, str]:
    """For every piece one piece that stands for its strongly connected component (Kosaraju's two passes)."""
    component: dict[str, str] = {}
    seen: set[str] = set()
    for root in reversed(list(_finished(forward, forward, set()))):
        component.update(dict.fromkeys(_finished([root], backward, seen), root))
    return component


def _finished(roots: Iterable[str], graph: _Graph, seen: set[str]) -> Iterator[str]:
    """What can be reached and was not seen, each after all that follows it.

    A loop and no recursion: drawings can be deeper than the stack.
    """
    for root in roots:
        if root in seen:
            continue
        seen.add(root)
        open_nodes = [(root, iter(graph[root]))]
        while open_nodes:
            node, following = open_nodes[-1]
            step = next((each for each in following if each not in seen), None)
            if step is None:
                open_nodes.pop()
                yield node
            else:
                seen.add(step)
                open_nodes.append((step, iter(graph[step])))
