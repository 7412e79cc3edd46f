"""`recipelang history`: what became of one recipe, or of a library, commit by commit."""

from __future__ import annotations

import csv
import io
import json
from itertools import pairwise
from pathlib import Path

import pytest

from recipelang.versions.history import history_of, history_of_library, moments, span
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.sources import Reader
from tests.changes.repo import Repo
from tests.changes.states import State, said_of
from tests.commands.conftest import Command

SOY = ("contains      milk\n", "contains      milk, soy\n")


def test_going_on_by_a_commit_gives_the_version_that_is_listed(history: Repo) -> None:
    reader = Reader(history.top / "kitchen", True)
    asked = span(reader, "", reader.repository.commit("HEAD"))
    for moment in moments(reader, asked):
        listed = reader.commit(moment.commit.id)
        made = moment.newer
        assert made.inventory.held.keys() == listed.inventory.held.keys(), moment.commit.subject
        for ref in listed.inventory.held:
            assert made.inventory.digest(ref) == listed.inventory.digest(ref), (moment.commit.subject, ref)
            assert [one.path for one in made.inventory.held[ref]] == [one.path for one in listed.inventory.held[ref]]
        assert made.settings == listed.settings
        assert made.unreadable == listed.unreadable


def test_a_recipe_changes_where_two_fresh_evaluations_of_it_differ(history: Repo, states: list[State]) -> None:
    reader = Reader(history.top / "kitchen", True)
    asked = span(reader, "", reader.repository.commit("HEAD"))
    outcomes = Outcomes()
    names = [
        "apricot ricotta cup", "pear ricotta cup", "whipped ricotta", "menu:harbor lunch k-8 week 2", "container:clear cup 12",
        "apricot yogurt drink", "menu:harbor breakfast week 2", "hurried cup", "blueberry yogurt cup",
    ]  # fmt: skip
    for ref in names:
        truth = []
        for older, newer in pairwise(states):
            before, after = older.figures.get(ref), newer.figures.get(ref)
            found = said_of(older.findings.get(ref, [])) != said_of(newer.findings.get(ref, []))
            if before != after or found:
                truth.append(newer.version.label)
        rows = list(history_of(reader, asked, ref, outcomes))
        told = [row.commit.id[:7] for row in rows if row.commit.id[:7] != states[0].version.label]
        assert told == truth, ref


def test_a_library_changes_where_any_declaration_does(history: Repo, states: list[State]) -> None:
    reader = Reader(history.top / "kitchen", True)
    asked = span(reader, "", reader.repository.commit("HEAD"))
    rows = {row.commit.id[:7]: set(row.others) for row in history_of_library(reader, asked, Outcomes(), False)}
    for older, newer in pairwise(states):
        if {*older.figures} - {*newer.figures} and {*newer.figures} - {*older.figures}:
            continue  # a rename is read under the newer name
        truth = {
            ref
            for ref in older.figures.keys() | newer.figures.keys()
            if older.figures.get(ref) != newer.figures.get(ref)
            or said_of(older.findings.get(ref, [])) != said_of(newer.findings.get(ref, []))
        }
        assert truth <= rows.get(newer.version.label, set()), newer.version.label


def test_a_name_is_followed_back(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    120 mg")
    repo.commit("less salt")
    for path in ("foods.recipe", "recipes/cups.recipe"):
        repo.write(
            path,
            repo.read(path).replace("whipped ricotta", "soft ricotta").replace("pear ricotta cup", "soft pear cup"),
        )
    repo.commit("other names")
    repo.replace("foods.recipe", *SOY)
    repo.commit("with soy")
    lines = command("history", "Soft  Pear cup").out.splitlines()
    subjects = [line.split("  ", 2)[2] for line in lines if line.startswith("2026")]
    assert subjects == ["the library as it is", "less salt", "other names", "with soy"]
    assert "  renamed  pear ricotta cup -> soft pear cup" in lines
    assert "  soft ricotta: contains milk -> milk, soy" in lines
    assert "    sodium of a portion           202 -> 213 mg" in lines


def test_what_is_gone_has_its_history_too(repo: Repo, command: Command) -> None:
    repo.replace(
        "recipes/cups.recipe",
        repo.read("recipes/cups.recipe")[repo.read("recipes/cups.recipe").index("recipe salted") :],
        "",
    )
    repo.commit("no more salted pears")
    lines = command("history", "salted pears").out.splitlines()
    assert [line.strip() for line in lines if line.startswith("  ")] == ["added", "removed"]


def test_a_figure_over_time(repo: Repo, command: Command) -> None:
    for sodium in (120, 120, 150):
        repo.write("foods.recipe", repo.read("foods.recipe").replace("sodium    100 mg", f"sodium    {sodium} mg"))
        repo.replace("recipes/cups.recipe", "and lid.", "and lid well.")
        repo.commit(f"sodium {sodium}")
        repo.write("foods.recipe", repo.read("foods.recipe").replace(f"sodium    {sodium} mg", "sodium    100 mg"))
        repo.write("recipes/cups.recipe", repo.read("recipes/cups.recipe").replace("and lid well.", "and lid."))
    out = command("history", "pear ricotta cup", "--figure", "salt").err
    assert "no figure is called `salt`" in out
    lines = command("history", "pear ricotta cup", "--figure", "sodium").out.splitlines()
    assert [line.split()[2:4] for line in lines] == [["201.7", "mg"], ["213", "mg"], ["230", "mg"]]
    table = list(
        csv.reader(io.StringIO(command("history", "pear ricotta cup", "--figure", "sodium", "--format", "csv").out))
    )
    assert table[0] == ["date", "commit", "subject", "value", "unit"]
    assert [row[3] for row in table[1:]] == ["201.699", "213.0389", "230.0486"]
    found = json.loads(command("history", "pear ricotta cup", "--figure", "sodium", "--format", "json").out)
    assert (found["figure"], found["unit"], found["is_cut"]) == ("nutrient sodium", "mg", False)
    assert [one["value"]["value"] for one in found["points"]] == ["201.699", "213.0389", "230.0486"]


def test_when_it_became_true(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", *SOY)
    soy = repo.commit("with soy")
    repo.git("revert", "--no-edit", "HEAD")
    out = command("history", "pear ricotta cup", "--when", "contains soy").out
    assert out.splitlines()[:2] == [f"2026-09-01  {soy[:7]}  with soy", "  now contains soy"]
    assert "  no longer contains soy" in out
    assert command("history", "pear ricotta cup", "--when", "sodium > 300 mg").out == "never sodium > 300 mg\n"
    assert "now cost >= 0.5" in command("history", "pear ricotta cup", "--when", "cost >= 0.5").out
    assert "now contains soy: plain ricotta cup" in command("history", "--when", "contains soy").out
    repo.replace("foods.recipe", "holds         12 fl oz", "holds         5 fl oz")
    repo.commit("small cups")
    assert "now overfilled-container" in command("history", "pear ricotta cup", "--when", "overfilled-container").out


def test_a_library_and_one_figure_of_it(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    120 mg")
    repo.commit("less salt")
    repo.replace("foods.recipe", *SOY)
    repo.commit("with soy")
    lines = command("history").out.splitlines()
    assert lines[0].endswith("the library as it is  (8 declarations changed; 8 are something else)")
    assert lines[1].endswith("less salt  (1 declaration changed; 3 are something else)")
    assert lines[2].endswith("with soy  (1 declaration changed; 3 are something else)")
    only = command("history", "--figure", "sodium").out
    assert "less salt" in only
    assert "with soy" not in only
    found = json.loads(command("history", "--format", "json").out)
    assert [one["others"] for one in found["commits"]] == [8, 3, 3]


def test_between_two_commits(repo: Repo, command: Command) -> None:
    for price in (41, 42, 43):
        repo.replace("foods.recipe", f"price         {price - 1}.00", f"price         {price}.00")
        repo.commit(f"price {price}")
    out = command("history", "pear ricotta cup", "HEAD~2..HEAD~1").out
    assert [line.split("  ", 2)[2] for line in out.splitlines() if line.startswith("2026")] == ["price 42"]
    assert "price 43" not in command("history", "HEAD~3..HEAD~1").out


def test_a_merge_is_one_step(repo: Repo, command: Command) -> None:
    repo.git("switch", "--quiet", "--create", "side")
    for price in (41, 42):
        repo.replace("foods.recipe", f"price         {price - 1}.00", f"price         {price}.00")
        repo.commit(f"price {price}")
    repo.git("switch", "--quiet", "main")
    repo.git("merge", "--quiet", "--no-ff", "--message", "the side comes in", "side")
    lines = command("history", "pear ricotta cup").out.splitlines()
    assert [line.split("  ", 2)[2] for line in lines if line.startswith("2026")] == [
        "the library as it is", "the side comes in",
    ]  # fmt: skip
    assert "  whipped ricotta: price 40.00 -> 42.00 per case" in lines


def test_text_that_changes_nothing_is_told_when_asked(repo: Repo, command: Command) -> None:
    repo.replace("recipes/cups.recipe", "and lid.", "and lid well.")
    repo.commit("words")
    assert "words" not in command("history", "pear ricotta cup").out
    out = command("history", "pear ricotta cup", "--all").out
    assert "words\n  edited, and nothing computed differs" in out


def test_a_shallow_clone_says_where_it_ends(
    repo: Repo, tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    for price in (41, 42):
        repo.replace("foods.recipe", f"price         {price - 1}.00", f"price         {price}.00")
        repo.commit(f"price {price}")
    clone = tmp_path / "shallow"
    repo.git("clone", "--quiet", "--depth", "2", f"file://{repo.top}", str(clone))
    monkeypatch.chdir(clone)
    lines = command("history", "pear ricotta cup").out.splitlines()
    assert "older commits are not in this clone" in lines
    assert not any("added" in line for line in lines), "what the oldest commit changed can't be told"
    assert [line.split("  ", 2)[2] for line in lines if line.startswith("2026")] == ["price 42"]


def test_for_programs(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", *SOY)
    repo.commit("with soy")
    found = json.loads(command("history", "pear ricotta cup", "--format", "json").out)
    assert [one["subject"] for one in found["commits"]] == ["the library as it is", "with soy"]
    (figure,) = found["commits"][1]["declaration"]["figures"]
    assert (figure["figure"], figure["causes"][0]["name"]) == ("contains soy", "whipped ricotta")
    table = list(csv.DictReader(io.StringIO(command("history", "pear ricotta cup", "--format", "csv").out)))
    assert [(row["subject"], row["figure"], row["causes"]) for row in table] == [
        ("with soy", "contains soy", "whipped ricotta")
    ]


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["pear ricota cup"], "did you mean `pear ricotta cup`?"),
        (["pear ricotta cup", "nope..HEAD"], "git knows no revision `nope`"),
        (["pear ricotta cup", "HEAD", "more"], "`more` is one too many"),
        (["pear ricotta cup", "--when", "zork > 3"], "no figure is called `zork`"),
        (["pear ricotta cup", "--when", "cost > lots"], "no figure is called"),
        (["--figure", "cost", "--when", "cost > 1"], "write one of them"),
        (["--format", "csv"], "name it"),
    ],
)
def test_what_can_not_be_done_is_one_sentence(repo: Repo, command: Command, arguments: list[str], why: str) -> None:
    done = command("history", *arguments)
    assert done.code == 2
    assert why in done.err
    assert done.err.count("\n") == 1


def test_a_subject_that_would_act_on_a_terminal_or_a_sheet_is_text(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", *SOY)
    repo.git("add", "--all")
    repo.git("commit", "--quiet", "--message", "=cmd()\x1b[31m \u202e")
    assert "=cmd()\\u001b[31m \\u202e" in command("history", "pear ricotta cup").out
    table = list(csv.DictReader(io.StringIO(command("history", "pear ricotta cup", "--format", "csv").out)))
    assert table[-1]["subject"].startswith("'=cmd()")


def test_cost_is_counted_in_evaluations(history: Repo) -> None:
    """Of one recipe only the commits that touch what it rests on are looked at."""
    reader = Reader(history.top / "kitchen", True)
    asked = span(reader, "", reader.repository.commit("HEAD"))
    outcomes = Outcomes()
    rows = list(history_of(reader, asked, "apricot ricotta cup", outcomes))
    assert outcomes.evaluated <= 2 * len(rows) + 4


MIX = """food ground beef
    arrives raw ground meat
recipe meatball mix
    makes 50 portions of 2 oz
    ingredients
        6 lb 4 oz ground beef
    steps
        - Shape [ground beef] in balls.
            work at room temperature up to 20 min
"""
DISH = """recipe baked meatballs
    makes 50 portions of 2 oz
    ingredients
        50 portions meatball mix
    steps
        - Bake [meatball mix].
            ccp cook to 155 F for 17 s
            ccp hold hot at 135 F or above up to 1 h
"""


def test_a_recipe_changes_when_another_takes_it_on(repo: Repo, command: Command) -> None:
    """Nothing that the mix names has changed, and yet it is told of no longer."""
    repo.write("kitchen/mix.recipe", MIX)
    repo.commit("a raw mix")
    repo.write("kitchen/dish.recipe", DISH)
    repo.commit("a dish that cooks it")
    reader = Reader(repo.top / "kitchen", True)
    asked = span(reader, "", reader.repository.commit("HEAD"))
    rows = {row.commit.subject: set(row.others) for row in history_of_library(reader, asked, Outcomes(), False)}
    assert rows["a dish that cooks it"] == {"baked meatballs", "meatball mix"}
