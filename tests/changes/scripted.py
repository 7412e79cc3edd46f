"""A scripted history of the example library: thirty-odd commits with everything that happens to recipes in git."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.changes.repo import Repo

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

ROGUE = "recipe tray of itself\n    makes 4 portions of 1 cup\n    ingredients\n        2 cup tray of others\n"
OTHERS = "recipe tray of others\n    makes 4 portions of 1 cup\n    ingredients\n        2 cup tray of itself\n"


def scripted(repo: Repo) -> list[str]:
    """Writes the history and gives the subjects of its first parents, oldest first. The library lies in `kitchen/`."""
    top = repo.top
    for path in sorted(EXAMPLES.rglob("*")):
        if path.suffix in (".recipe", ".toml") and "broken" not in path.parts:
            target = top / "kitchen" / path.relative_to(EXAMPLES)
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, target)
    dairy, cups, containers = (
        "kitchen/foods/dairy-and-eggs.recipe",
        "kitchen/recipes/cups.recipe",
        "kitchen/containers.recipe",
    )
    repo.write("README.md", "The kitchen's recipes.\n")
    repo.commit("the library")
    repo.replace(dairy, "sodium            105 mg", "sodium            120 mg")
    repo.commit("the ricotta's new label")
    repo.replace(
        cups, "recipe apricot ricotta cup\n", "// The first of the layered cups.\nrecipe apricot ricotta cup\n"
    )
    repo.commit("a comment")
    repo.replace(
        cups,
        "    course        entree\n    makes         50 portions of 3/4 cup",
        "    course entree\n\n    makes 50 portions of 3/4 cup",
    )
    repo.commit("another layout")
    repo.git("mv", "kitchen/recipes/cups.recipe", "kitchen/recipes/layered-cups.recipe")
    repo.commit("a file renamed")
    cups = "kitchen/recipes/layered-cups.recipe"
    text = repo.read(cups)
    start = text.index("recipe blueberry yogurt cup")
    end = text.index("// The oats soak overnight")
    repo.write(cups, text[:start] + text[end:])
    repo.write("kitchen/recipes/more-cups.recipe", text[start:end])
    repo.commit("a recipe moved to a file of its own")
    for path in sorted((top / "kitchen").rglob("*.recipe")):
        body = path.read_text(encoding="utf-8")
        if "toasted oat crumble" in body:
            path.write_text(body.replace("toasted oat crumble", "golden oat crumble"), encoding="utf-8")
    repo.commit("another name for the crumble")
    repo.replace(
        dairy,
        "    contains      milk\n    arrives       ready to eat\n    tcs\n    keeps         21 d cold, 5 d opened\n    credits       1 oz eq meat/meat alternate per 2 oz as served\n    evidence      product formulation",
        "    contains      milk, soy\n    arrives       ready to eat\n    tcs\n    keeps         21 d cold, 5 d opened\n    credits       1 oz eq meat/meat alternate per 2 oz as served\n    evidence      product formulation",
    )
    repo.commit("the ricotta is made with soy")
    repo.replace(containers, "holds         12 fl oz", "holds         9 fl oz")
    repo.commit("smaller cups")
    repo.git("revert", "--no-edit", "HEAD")
    repo.git("switch", "--quiet", "--create", "spring", "HEAD~4")
    repo.replace(
        "kitchen/menus/lunch-k-8.recipe", "serve     garlic broccoli, 500", "serve     seasoned green beans, 500"
    )
    repo.commit("green beans on Monday")
    repo.write(
        "kitchen/foods/new.recipe",
        "food whipped feta\n    price 50.00 per case\n    pack 4 tubs of 5 lb\n    contains milk\n    label read 2026-08-01\n",
    )
    repo.commit("a new food")
    repo.git("switch", "--quiet", "main")
    repo.git("merge", "--quiet", "--no-ff", "--message", "spring comes in", "spring")
    repo.git("switch", "--quiet", "--create", "side", "HEAD~1")
    repo.replace(
        "kitchen/foods/fruit-and-juice.recipe",
        "food canned apricots drained",
        "// Drained well.\nfood canned apricots drained",
    )
    repo.commit("a remark")
    repo.write(
        "kitchen/recipes/side.recipe",
        "recipe plain apricots\n    makes 50 portions of 1/2 cup\n    ingredients\n        6 qt 1 cup canned apricots drained\n",
    )
    repo.commit("plain apricots")
    repo.git("rebase", "--quiet", "main")
    repo.git("switch", "--quiet", "main")
    repo.git("merge", "--quiet", "--ff-only", "side")
    repo.write("kitchen/odd.recipe", ROGUE + "\n" + OTHERS)
    repo.commit("a ring of recipes")
    repo.write("kitchen/odd.recipe", OTHERS + "\n" + ROGUE + "\nfoood stray cheese\n    contains milk\n")
    repo.commit("its order turns, and a word astray")
    repo.write("kitchen/zz-again.recipe", "food whipped feta\n    contains milk, egg\n    label read 2026-08-01\n")
    repo.commit("a name declared twice")
    repo.git("mv", "kitchen/zz-again.recipe", "kitchen/aa-again.recipe")
    repo.commit("the second comes first")
    repo.write(
        "kitchen/broken.recipe",
        "recipe hurried cup\n    makes portions of\n    ingredients\n        lots whipped feta\n        2 lb whipped feta\n",
    )
    repo.commit("a recipe that can't be read")
    repo.write(
        "kitchen/broken.recipe",
        "recipe hurried cup\n    makes 10 portions of 3 oz\n    ingredients\n        2 lb whipped feta\n",
    )
    repo.commit("and can")
    repo.write(
        "kitchen/latin.recipe",
        "food caf\xe9 cream\n    contains milk\n\nfood plain cream\n    contains milk\n".encode("latin-1"),
    )
    repo.commit("a file in another encoding")
    repo.write("kitchen/latin.recipe", "food café cream\n    contains milk\n\nfood plain cream\n    contains milk\n")
    repo.commit("and in ours")
    repo.replace("kitchen/recipelang.toml", "[rules]\n", '[rules]\nmissing-price = "error"\n')
    repo.commit("prices are asked for")
    repo.replace("kitchen/menus/calendar.recipe", "closed", "closed        2026-09-14\n    closed")
    repo.commit("a closed day")
    (top / "kitchen" / "foods" / "new.recipe").unlink()
    repo.commit("the feta goes")
    (top / "kitchen" / "link.recipe").symlink_to("containers.recipe")
    repo.commit("a link")
    for path in sorted((top / "kitchen").rglob("*.recipe")):
        if not path.is_symlink():
            path.write_text(path.read_text(encoding="utf-8").replace("\n", "\r\n"), encoding="utf-8", newline="")
    repo.commit("other line ends")
    return repo.git("log", "--first-parent", "--reverse", "--format=%s").splitlines()
