"""A workspace: the files of a library, the index of its names, and its findings.

The command line opens it on files, asks once and exits; a server keeps it and tells it of every edit. After any
sequence of edits it gives the findings that a fresh one gives for the same text.
"""

from __future__ import annotations

import pickle
from collections import ChainMap
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from recipelang.evaluate.cycles import forget_marks
from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import (
    all_of_kind,
    also_called_of,
    homes_of,
    mentions_of,
    order_of,
    own_meaning,
    source_of,
    tree_of,
)
from recipelang.facts.recipe.circles import break_circle
from recipelang.findings.finding import DeclarationId, Finding, Fix, Place
from recipelang.model.names import SPACES, Declared, Ref, ref_of
from recipelang.pantry import pantry
from recipelang.rules.engine import Settled, check_of
from recipelang.rules.library import internal_error
from recipelang.syntax.split import STRAY, Declaration, fold
from recipelang.syntax.tree import Body
from recipelang.text.school_year import DEFAULT_SCHOOL_YEAR
from recipelang.text.source import UnreadableText, decode_lines
from recipelang.workspace.cache import CachedDeclaration, digest_of, pack
from recipelang.workspace.config import Config, read_config
from recipelang.workspace.dependencies import ALWAYS, Inputs, Node, findings_node, gather, reads_name
from recipelang.workspace.disk import config_bytes, read_files, relative_to, root_for
from recipelang.workspace.files import CONFIG_NAME, read_text
from recipelang.workspace.mentions import USERS, MentionIndex, is_in
from recipelang.workspace.name_index import NameIndex, is_called_alike
from recipelang.workspace.report import LocatedFinding, tell, unreadable
from recipelang.workspace.settings import settings_of
from recipelang.workspace.source_file import File, Range, range_in
from recipelang.workspace.suggestions import Suggestions


class Workspace:
    """Open it with `Workspace.open`, or give texts to `Workspace.of`."""

    def __init__(self, root: Path, config: Config | None = None, school_year: str = "") -> None:
        self.root = root
        self.config = config or Config()
        self.asked_year = school_year
        self.files: dict[str, File] = {}
        self.unreadable: dict[str, str] = {}
        self.supplying: set[str] = set()
        """Paths of `include` folders: they supply names, never findings."""
        self.config_text: str | None = None
        """What stands in an editor in place of the configuration on disk."""
        self.behind: Workspace | None = None
        """A library whose names are visible behind this one's own."""
        self._index = NameIndex()
        self._packed: dict[DeclarationId, bytes] = {}
        """The trees of declarations that nobody looks at."""
        self._listed: dict[str, set[Ref]] = {"menu": set(), "calendar": set()}
        """What other declarations look through without naming it."""
        self._mentions = MentionIndex()
        self._suggestions: Suggestions | None = None
        settings, self.unit_problems = settings_of(self.config, school_year)
        self.facts = Facts(self, pantry(), settings, break_circle)
        self._settled = Settled(self.facts)

    @property
    def school_year(self) -> str:
        """The year whose rules menus without dates are held to; empty where nobody names one and no menu needs it."""
        return self.asked_year or self.config.school_year or (DEFAULT_SCHOOL_YEAR if self._listed["menu"] else "")

    # ---- opening ----

    @classmethod
    def of(cls, texts: dict[str, str], config: Config | None = None, school_year: str = "") -> Workspace:
        """A workspace of texts by path; nothing is read from disk."""
        workspace = cls(Path("."), config, school_year)
        for path, text in texts.items():
            workspace.set_text(path, text)
        return workspace

    @classmethod
    def open(cls, paths: Sequence[Path], school_year: str = "") -> Workspace:
        """The workspace that holds the paths: the nearest library upward with all its files, or exactly the paths."""
        root, is_library = root_for(paths)
        data = config_bytes(root) if is_library else None
        config = read_config(root) if is_library else Config()
        shelf = read_files(root, is_library, paths, config.include, config.exclude, data)
        workspace = cls(root, config, school_year)
        workspace.unreadable.update(shelf.unreadable)
        workspace.supplying.update(shelf.supplying)
        for path, content in shelf.data.items():
            try:
                workspace.set_text(path, decode_lines(content))
            except UnreadableText as error:
                workspace.unreadable[path] = str(error)
        return workspace

    def relative(self, path: Path) -> str:
        """A path as findings print it: from the root, with `/`."""
        return relative_to(self.root, path)

    # ---- edits ----

    def set_text(self, path: str, text: str) -> None:
        """Gives a file a text: a new file, or an edit of an open one."""
        old = self.files.get(path)
        if old is None or old.text != text:
            self.set_file(File(path, text))
        else:
            self.unreadable.pop(path, None)

    def set_file(self, new: File) -> None:
        """Gives the workspace a file, in place of an older one of that path."""
        path = new.path
        self.unreadable.pop(path, None)
        old = self.files.get(path)
        self.files[path] = new
        self._reindex(path, old, new)

    def remove(self, path: str) -> None:
        """Forgets a file."""
        self.unreadable.pop(path, None)
        old = self.files.pop(path, None)
        if old is not None:
            self._reindex(path, old, None)

    def _reindex(self, path: str, old: File | None, new: File | None) -> None:
        """Puts the names of a file into the index, and tells the memo what has become another: a declaration that says
        what it said, wherever it stands now, is the same."""
        before = old.by_home if old is not None else {}
        after = new.by_home if new is not None else {}
        facts = self.facts
        self._suggestions = None
        named: dict[Ref, None] = {}
        for home, one in before.items():
            now = after.get(home)
            if now is None or not is_called_alike(one, now):
                named.update(dict.fromkeys(self._index.remove(home, one)))
            if now is None:
                self._packed.pop(home, None)
                facts.forget(tree_of, home)
                facts.forget(source_of, home)
        for home, one in after.items():
            was = before.get(home)
            if was is None or not is_called_alike(one, was):
                named.update(dict.fromkeys(self._index.add(home, one)))
            if was != one:
                self._packed.pop(home, None)
                facts.renew(source_of, home, one)
                self._mentions.add(home, one)
        for ref in named:
            facts.renew(own_meaning, ref, self.declared(ref))
            facts.renew(homes_of, ref, self.homes(ref))
            facts.renew(also_called_of, ref, self.also_called(ref))
        for kind, listed in self._listed.items():
            refs = {ref for ref in named if ref.startswith(SPACES[kind])}
            if refs:
                listed -= refs
                listed |= self._index.has(refs)
                facts.renew(all_of_kind, kind, self.of_kind(kind))
        self._renew_mentions(before, after)
        if before.keys() != after.keys():
            facts.renew(order_of, path, tuple(after))
        forget_marks(facts)

    # ---- texts, as the library reads them ----

    def declared(self, ref: Ref) -> Declared | None:
        found = self._index.declared(ref)
        return self.behind.declared(ref) if found is None and self.behind is not None else found

    def homes(self, ref: Ref) -> tuple[DeclarationId, ...]:
        return self._index.homes(ref)

    def also_called(self, ref: Ref) -> tuple[DeclarationId, ...]:
        return self._index.also_called(ref)

    def order(self, path: str) -> tuple[DeclarationId, ...]:
        """The declarations of a file from top to bottom."""
        file = self._file(path)
        return () if file is None else tuple(file.by_home)

    def of_kind(self, kind: str) -> tuple[Ref, ...]:
        """All menus or calendars, in order of name."""
        behind = () if self.behind is None else self.behind.of_kind(kind)
        return tuple(sorted({*self._listed[kind], *behind}))

    def mentions(self, name: str) -> tuple[Ref, ...]:
        """What has a folded name in its text, in order of name."""
        if not self._mentions.is_made:
            self._mentions.make(pair for file in self.files.values() for pair in file.by_home.items())
        homes = self._mentions.having(name, lambda home: self.declaration(home) if home.path in self.files else None)
        refs = (self.ref_at(home) for home in homes)
        behind = () if self.behind is None else self.behind.mentions(name)
        return tuple(sorted({*(ref for ref in refs if ref is not None), *behind}))

    def _renew_mentions(
        self, before: Mapping[DeclarationId, Declaration], after: Mapping[DeclarationId, Declaration]
    ) -> None:
        """Tells the memo of names that are in other declarations than before."""
        asked = self.facts.asked(mentions_of)
        if not asked:
            return
        changed = [one for home, one in before.items() if after.get(home) != one]
        changed += [one for home, one in after.items() if before.get(home) != one]
        texts = [fold(one.text) for one in changed if one.kind in USERS]
        for name in asked:
            if any(is_in(name, text) for text in texts):
                self.facts.renew(mentions_of, name, self.mentions(name))

    def declaration(self, home: DeclarationId) -> Declaration | None:
        file = self._file(home.path)
        return None if file is None else file.by_home.get(home)

    def _file(self, path: str) -> File | None:
        file = self.files.get(path)
        return file if file is not None or self.behind is None else self.behind.files.get(path)

    def body(self, home: DeclarationId) -> Body:
        from recipelang.syntax.parser import parse

        if home in self._packed:
            packed: Body = pickle.loads(self._packed[home])
            return packed
        declaration = self.declaration(home)
        assert declaration is not None
        return parse(declaration)

    def say_of_config(self, config: Config, text: str | None) -> None:
        """Takes a configuration that sets what the one before it set: what is said of it, and where, may be another."""
        from recipelang.workspace.units import own_units

        self.config, self.config_text = config, text
        self.unit_problems = own_units(config.units)[1]

    # ---- findings ----

    def findings(self, paths: Iterable[str] | None = None) -> list[Finding]:
        """All findings of the files asked for, in order of path and place."""
        found: list[Finding] = []
        wanted = sorted(self.files) if paths is None else sorted(paths)
        for path in wanted:
            if path in self.files and path not in self.supplying:
                found.extend(self.file_findings(path))
        names = sorted(self.unreadable) if paths is None else [path for path in wanted if path in self.unreadable]
        found.extend(unreadable(path, self.unreadable[path]) for path in names)
        found.extend(self.config.problems)
        found.extend(self.unit_problems)
        return found

    def file_findings(self, path: str) -> list[Finding]:
        """The findings of one file in order of place."""
        found = [finding for home in self.files[path].by_home for finding in self.declaration_findings(home)]
        found.sort(key=self._order)
        return found

    def declaration_findings(self, home: DeclarationId) -> Sequence[Finding]:
        """The findings of one declaration."""
        try:
            return self._declaration_findings(home)
        except ImportError:
            raise
        except Exception as error:
            if self.facts.on_crash is not None:
                self.facts.on_crash("", home.key, error)
            one = self.files[home.path].by_home[home]
            return (internal_error.failure(Place(home, one.header, one.name_end or one.header), {"": error}),)

    def _declaration_findings(self, home: DeclarationId) -> Sequence[Finding]:
        from recipelang.rules.engine import duplicate_findings, problem_findings

        ref = self.ref_at(home)
        if ref is None:
            return problem_findings(home, tree_of(self.facts, home))
        one = self.files[home.path].by_home[home]
        if self.is_meant(home, ref):
            return check_of(self.facts, ref).findings
        return duplicate_findings(self.facts, ref, Declared(one.kind, one.name, home))

    def sure_findings(self, home: DeclarationId) -> Sequence[Finding]:
        """The findings of one declaration that no further name can change."""
        from recipelang.rules.engine import problem_findings, sure_findings

        ref = self.ref_at(home)
        try:
            if ref is None or not self.is_meant(home, ref):
                return problem_findings(home, tree_of(self.facts, home))
            return sure_findings(self.facts, ref, self._settled)
        except Exception:  # it is told once the declaration is looked at with all names
            return ()

    def settle(self, home: DeclarationId) -> None:
        """Keeps of a declaration that was checked, and that nobody looks at or rests on, only its findings, what they
        rest on, and a packed tree: a tenth of what it takes to answer for it at once."""
        ref = self.ref_at(home)
        facts = self.facts
        if home not in self._packed:
            self._packed[home] = pickle.dumps(tree_of(self.facts, home), pickle.HIGHEST_PROTOCOL)
        if ref is not None and self.is_meant(home, ref):
            facts.settle(check_of, ref, home)
        facts.forget(tree_of, home)
        self.files[home.path].forget_lines()

    def ref_at(self, home: DeclarationId) -> Ref | None:
        """What a declaration is called; None for stray text, and for a header without a name."""
        one = self.files[home.path].by_home[home]
        return None if one.kind == STRAY or not one.name else ref_of(one.kind, one.name)

    def is_meant(self, home: DeclarationId, ref: Ref) -> bool:
        """Whether a declaration is the one that its name means, rather than a second one of that name."""
        declared = self.declared(ref)
        return declared is not None and declared.home == home

    def _order(self, finding: Finding) -> tuple[Any, ...]:
        file = self.files.get(finding.place.home.path)
        declaration = None if file is None else file.by_home.get(finding.place.home)
        start = declaration.start if declaration is not None else 0
        place = finding.place
        return (start + place.start, start + place.end, finding.rule, finding.message)

    # ---- places ----

    def range_of(self, place: Place) -> Range:
        """Where a place is now."""
        return range_in(self._all_files(), place, self.elsewhere())

    def _all_files(self) -> Mapping[str, File]:
        return self.files if self.behind is None else ChainMap(self.files, self.behind.files)

    def elsewhere(self) -> dict[str, str]:
        """The text of the configuration, for findings about it."""
        if not self.config.problems and not self.unit_problems:
            return {}
        if self.config_text is not None:
            return {CONFIG_NAME: self.config_text}
        try:
            return {CONFIG_NAME: read_text(self.root / CONFIG_NAME)}
        except UnreadableText:
            return {}

    def tell(self, finding: Finding) -> LocatedFinding:
        """A finding with its places turned into lines and columns."""
        return tell(self._all_files(), self.elsewhere(), finding, self.suggest)

    def suggest(self, finding: Finding) -> list[Fix]:
        """What could be written for a name that a finding calls unknown, from the names there are now."""
        if self.behind is not None:  # whose names may change without this one hearing of it
            return Suggestions(self._all_files()).of(finding)
        if self._suggestions is None:
            self._suggestions = Suggestions(self.files)
        return self._suggestions.of(finding)

    # ---- for the cache ----

    def kept(self, home: DeclarationId) -> CachedDeclaration:
        """A declaration's findings, as the cache keeps them."""
        ref = self.ref_at(home)
        findings = tuple(map(pack, self.declaration_findings(home)))
        is_meant = ref is not None and self.is_meant(home, ref)
        reads = () if ref is None or is_meant else (reads_name(ref),)
        if any(one[0] == internal_error.NAME for one in findings):
            reads = (*reads, ALWAYS)
        node = findings_node(ref) if ref is not None and is_meant else ""
        return CachedDeclaration(
            home.key, home.nth, digest_of(self.files[home.path].by_home[home]), findings, node, reads
        )

    def dependencies(self) -> dict[str, Node]:
        """What all findings of this workspace rest on."""
        roots = self.facts.tables[check_of.slot].values()
        return gather(self.facts, Inputs(self._index.misspelled), roots)

    def told_alone(self, name: str, text: str) -> list[LocatedFinding]:
        """The findings of one file with this workspace's names visible; its own names hide the workspace's."""
        alone = Workspace(self.root, self.config._replace(problems=()), self.asked_year)
        alone.behind = self
        alone.set_text(name, text)
        return [alone.tell(finding) for finding in alone.file_findings(name)]

    # ---- names ----

    def recipe_refs(self) -> list[Ref]:
        """All recipes and variations, in order of name."""
        return self._index.of_kinds("recipe", "variation")
