"""Results to print: of texts in the notation, and made up of any characters at all."""

from __future__ import annotations

from hypothesis import strategies as st

from recipelang.findings.finding import SEVERITIES, DeclarationId, Figure, Finding, Place
from recipelang.rules.catalogue import names
from recipelang.syntax.split import fold
from recipelang.text.source import Position
from recipelang.workspace.config import Config
from recipelang.workspace.report import LocatedFinding, Result, in_order
from recipelang.workspace.source_file import Range
from recipelang.workspace.workspace import Workspace


def result_of(texts: dict[str, str] | str, school_year: str = "", config: Config | None = None) -> Result:
    """What a check of texts by path tells."""
    by_path = {"test.recipe": texts} if isinstance(texts, str) else texts
    workspace = Workspace.of(by_path, config, school_year)
    declared = [one for file in workspace.files.values() for one in file.declarations]
    return Result(
        in_order([workspace.tell(finding) for finding in workspace.findings()]), len(by_path), len(declared), school_year,
        paths=tuple(sorted(by_path)), names=frozenset(fold(one.name) for one in declared),
    )  # fmt: skip


def told(
    rule: str = "claim-too-high", severity: str = "error", message: str = "It claims too much.", *,
    path: str = "cups.recipe", line: int = 1, column: int = 1, declaration: str = "peach cup", text: str = "    a line",
    figures: tuple[Figure, ...] = (),
) -> LocatedFinding:  # fmt: skip
    """A finding made up for a test, one character wide."""
    place = Range(path, Position(line, column), Position(line, column + 1))
    finding = Finding(
        rule, severity, Place(DeclarationId(path, declaration), 0, 1), message, figures, "7 CFR 210.10", "fix it"
    )
    return LocatedFinding(finding, place, declaration, text, ((place, message),), ((message, ((place, text),), False),))


ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
ANY_TOLD = st.builds(
    told, st.sampled_from(names()), st.sampled_from(SEVERITIES), ANY_TEXT, path=ANY_TEXT.filter(bool),
    line=st.integers(1, 9), column=st.integers(1, 9), declaration=ANY_TEXT, text=ANY_TEXT,
    figures=st.tuples(st.builds(Figure, st.just("found"), ANY_TEXT, ANY_TEXT, ANY_TEXT)),
)  # fmt: skip
ANY_RESULT = st.lists(ANY_TOLD, max_size=4).map(lambda many: Result(in_order(many), len(many), len(many), "2026-27"))
"""Results of findings with any characters in them: names and paths are what people make them."""
