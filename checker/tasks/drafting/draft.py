"""Puts a draft together: the layer, its cases, the profile; and writes it where nothing lies yet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from checker.catalog.model import Catalog
from checker.rules.documents import document_meant, no_such_document
from checker.rules.layers.read import read_layer
from checker.rules.layers.shelf import Shelf
from checker.rules.layers.stack import Stack
from checker.rules.profile import read_profile
from checker.rules.wording import choice_of
from checker.tasks.drafting.also import beside_own
from checker.tasks.drafting.answers import Adopted, Answers, unanswered
from checker.tasks.drafting.case_texts import CaseWriter
from checker.tasks.drafting.finding import Finder
from checker.tasks.drafting.layer_text import ASKED, layer_text
from checker.tasks.drafting.profile_text import profile_text
from checker.tasks.drafting.yaml_text import comment
from checker.tasks.gathering.library import Library
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class DraftFile:
    """A file to write."""

    path: Path
    text: str


def drafted(answers: Answers, folder: Path, library: Library, catalog: Catalog) -> tuple[DraftFile, ...]:
    """The files of a draft: profile, layer, cases. Raises Unreadable with what in the answers cannot be used, and
    where one of the files is there already.
    """
    answers = _by_document(answers, library)
    found = [*unanswered(answers), *_adopted(answers, library), *_in_the_way(answers, folder)]
    if found:
        raise Unreadable(found)
    finder = Finder(library.packs, answers.editions)
    files = [DraftFile(folder / f"{answers.name}.yaml", profile_text(answers, finder, folder))]
    if answers.changes:
        files += _layer_files(answers, folder, finder, library, catalog)
    return tuple(files)


def names(answers: Answers) -> tuple[str, ...]:
    """The names of the files of a draft."""
    layer = (f"{answers.name}-code.yaml", f"{answers.name}-code.cases.yaml") if answers.changes else ()
    return (f"{answers.name}.yaml", *layer)


def _in_the_way(answers: Answers, folder: Path) -> list[Problem]:
    if folder.exists() and not folder.is_dir():
        return [Problem(f"{folder.name} is no folder.", None, "Name a folder for the files.")]
    lying = [folder / name for name in names(answers) if (folder / name).exists()]
    return [
        Problem(f"{each.name} is there already, and a draft never writes over a file.", None, "Name another folder.")
        for each in lying
    ]


def _by_document(answers: Answers, library: Library) -> Answers:
    """The same, each document by the name of its pack: a person may write its title or its initials."""
    return replace(answers, adopts=tuple(_named(each, library) for each in answers.adopts))


def _named(adopted: Adopted, library: Library) -> Adopted:
    meant = document_meant(adopted.document, library.packs)
    if meant is None or (meant.edition and adopted.edition not in ("", meant.edition)):
        return adopted
    return replace(adopted, document=meant.document, edition=adopted.edition or meant.edition)


def _adopted(answers: Answers, library: Library) -> list[Problem]:
    packs = {pack.document: pack for pack in library.packs}
    found = []
    for each in answers.adopts:
        pack = packs.get(each.document)
        if pack is None:
            found.append(no_such_document(each.document, library.packs, None))
        elif each.edition not in (pack.editions or ("",)):
            sentence = f"There is no edition {each.edition or 'without a year'} of {each.document}."
            found.append(Problem(sentence, None, f"Its pack has {choice_of(pack.editions)}."))
    return found


def _layer_files(
    answers: Answers, folder: Path, finder: Finder, library: Library, catalog: Catalog
) -> tuple[DraftFile, ...]:
    text = layer_text(answers, finder, catalog, folder)
    name = f"{answers.name}-code"
    with TemporaryDirectory() as room:
        # Read as lint will read it, so that the cases are those of the file and not of what was meant.
        path = Path(room) / f"{name}.yaml"
        path.write_text(text, encoding="utf-8", newline="\n")
        layer = read_layer(path, catalog, Shelf(library.packs))
        (Path(room) / "profile.yaml").write_text(profile_text(answers, finder, folder), encoding="utf-8", newline="\n")
        read_profile(Path(room) / "profile.yaml", catalog=catalog)
        cases = CaseWriter(Stack(layer, path, library.packs, adopted=answers.adopted), catalog).text(folder)
    own = [line for rule in layer.added for line in beside_own(rule, finder)]
    asked = comment([f"To the rules of its own. {ASKED}", *(f"  {each}" for each in own)]) if own else ""
    return (
        DraftFile(folder / f"{name}.yaml", text + asked),
        DraftFile(folder / f"{name}.cases.yaml", cases),
    )


def write(files: tuple[DraftFile, ...]) -> None:
    """Write the files of a draft; none that is there already is touched. Raises Unreadable."""
    for each in files:
        try:
            each.path.parent.mkdir(parents=True, exist_ok=True)
            with each.path.open("x", encoding="utf-8", newline="\n") as stream:
                stream.write(each.text)
        except FileExistsError:
            sentence = f"{each.path.name} is there already, and a draft never writes over a file."
            raise Unreadable([Problem(sentence, None, "Name another folder.")]) from None
        except OSError as error:
            raise Unreadable([Problem(f"{each.path.name} cannot be written: {error.strerror}.", None, "")]) from error
