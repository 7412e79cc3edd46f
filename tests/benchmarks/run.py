"""Measures speed as ratios within one run, and prints the table that DEVELOPERS.md holds.

    python -m tests.benchmarks.run

makes an environment of its own from a wheel (an editable install slows every start of Python), generates a library of
1,000 recipes of forty lines, and compares with bare Lark and yamllint on the same content in the same run. Nothing here
is a test: figures depend on the machine, the limits beside them are what we hold ourselves to. Times are those of the
processor.
"""

from __future__ import annotations

import gc
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
INSIDE = "RECIPELANG_BENCHMARK_INSIDE"


def main() -> None:
    if os.environ.get(INSIDE):
        measure(Path(os.environ[INSIDE]))
        return
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        run(sys.executable, "-m", "venv", str(base / "venv"))
        python = base / "venv" / "bin" / "python"
        run(str(python), "-m", "pip", "install", "-q", f"{ROOT}[fast]", "yamllint", "PyYAML")
        environment = {
            **os.environ,
            INSIDE: str(base),
            "PYTHONPATH": str(ROOT),
            "RECIPELANG_CACHE": str(base / "cache"),
        }
        environment["PYTHONSAFEPATH"] = "1"
        script = base / "run.py"
        shutil.copy(Path(__file__), script)
        for module in ("generate.py", "menus.py", "instructions.py"):
            shutil.copy(Path(__file__).with_name(module), base / module)
        environment["PYTHONPATH"] = str(base)
        subprocess.run([str(python), str(script)], check=True, env=environment, cwd=base)


def run(*command: str) -> None:
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)


ROWS: list[tuple[str, str, str]] = []


def row(what: str, figure: str, limit: str) -> None:
    ROWS.append((what, figure, limit))
    print(f"{what:<72} {figure:>14} {limit:>10}", flush=True)


def worked() -> float:
    """Seconds that the processors have worked for this process and those that it waited for. On a machine that does other
    things too, the clock would say more about these."""
    both = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in both)


def best(action: Callable[[], object], times: int = 3) -> float:
    """The least work of several runs, in seconds."""
    found = []
    for _ in range(times):
        start = worked()
        action()
        found.append(worked() - start)
    return min(found)


def measure(base: Path) -> None:
    print(f"{'what':<72} {'measured':>14} {'limit':>10}")
    parsing(base)
    processes(base)
    again(base)
    menus(base)
    growth(base)
    lengths()
    for counted in instructions():
        row(*counted)


def parsing(base: Path) -> None:
    from generate import as_yaml, library

    folder = base / "library"
    library(folder, 1000)
    recipes = [path.read_text(encoding="utf-8") for path in sorted(folder.rglob("dish*.recipe"))]
    everything = [path.read_text(encoding="utf-8") for path in sorted(folder.rglob("*.recipe"))]

    from lark import Lark

    from recipelang.rules.catalogue import rules
    from recipelang.syntax.driver import driver
    from recipelang.syntax.split import body_for_parser, split
    from recipelang.syntax.tables import STARTS, grammar_text
    from recipelang.workspace.workspace import Workspace

    rules()
    driver()
    bare = Lark(
        grammar_text(), parser="lalr", lexer="contextual", start=list(STARTS), maybe_placeholders=True,
        propagate_positions=True,
    )  # fmt: skip
    bodies = [(f"{one.kind}_body", body_for_parser(one)) for text in everything for one in split(text)]
    for start, body in bodies[:20]:
        bare.parse(body, start=start)
    gc.collect()
    gc.disable()
    plain = best(lambda: [bare.parse(body, start=start) and None for start, body in bodies])
    cold = best(lambda: Workspace.open([folder]).findings())
    gc.enable()
    row("cold check of 1,000 recipes, against bare Lark.parse of the same text", f"{cold / plain:.2f} x", "2.0 x")

    from yamllint import linter
    from yamllint.config import YamlLintConfig

    config = YamlLintConfig("extends: relaxed")
    documents = [as_yaml(text) for text in recipes]
    gc.disable()
    yaml = best(lambda: [list(linter.run(text, config)) for text in documents], 1)
    gc.enable()
    row("files a second, against yamllint on the same content as YAML", f"{yaml / cold:.2f} x", ">= 2.5 x")
    row("bare Lark.parse, against yamllint", f"{yaml / plain:.2f} x", ">= 5 x")
    row("cold check, milliseconds a recipe", f"{cold:.2f} ms", "")


def processes(base: Path) -> None:
    """Whole processes on one file."""
    folder = base / "one"
    folder.mkdir()
    file = folder / "one.recipe"
    source = (base / "library" / "recipes0" / "dish00003.recipe").read_text(encoding="utf-8")
    foods = (base / "library" / "foods.recipe").read_text(encoding="utf-8")
    containers = (base / "library" / "containers.recipe").read_text(encoding="utf-8")
    file.write_text("\n".join((containers, foods, source)), encoding="utf-8")
    cache = base / "process-cache"
    environment = {**os.environ, "RECIPELANG_CACHE": str(cache)}
    environment.pop(INSIDE)

    def process(*arguments: str) -> Callable[[], object]:
        return lambda: subprocess.run(
            [sys.executable, *arguments], env=environment, cwd=folder, stdout=subprocess.DEVNULL, check=False
        )

    check = ("-m", "recipelang", "check", "one.recipe")
    small = folder / "small.recipe"
    small.write_text(_small(foods, source), encoding="utf-8")
    check = ("-m", "recipelang", "check", "small.recipe")
    process(*check)()
    imports = best(process("-c", "import lark"), 11)
    unchanged = best(process(*check), 11)
    tables = best(process(*check, "--no-cache"), 11)

    def nothing() -> None:
        shutil.rmtree(cache, ignore_errors=True)
        process(*check)()

    bare = best(nothing, 7)
    row("whole process, one unchanged file, against `python -c 'import lark'`", f"{unchanged / imports:.2f} x", "1.2 x")
    row("  nothing remembered but parse tables", f"{tables / imports:.2f} x", "2.5 x")
    row("  nothing cached at all", f"{bare / imports:.2f} x", "3.5 x")


def instructions() -> list[tuple[str, str, str]]:
    """What no other load disturbs, where Valgrind is there to count it."""
    from instructions import rows

    return rows(sys.executable)


def _small(foods: str, source: str) -> str:
    """One recipe with the foods it names."""
    blocks = [f"food {block}" for block in foods.split("food ")[1:]]
    used = [block for block in blocks if block.split("\n")[0].removeprefix("food ") in source]
    return "\n".join([*used, "container bench cup\n    holds 400 fl oz\n", source])


def again(base: Path) -> None:
    """The library again, against the cold time."""
    from recipelang.workspace.check import check_paths

    folder = base / "library"

    def check() -> object:
        return check_paths([folder])

    gc.disable()
    cold = best(lambda: check_paths([folder], use_cache=False), 2)
    check()
    row("the library again, unchanged, against cold", f"{best(check) / cold:.3f} x", "0.04 x")
    dish = folder / "recipes0" / "dish00005.recipe"
    text = dish.read_text(encoding="utf-8")
    row(
        "  one recipe changed",
        f"{_changed(dish, text.replace('stir well', 'stir hard'), check) / cold:.3f} x",
        "0.06 x",
    )
    dish.write_text(text, encoding="utf-8")
    check()
    shared = folder / "containers.recipe"
    text = shared.read_text(encoding="utf-8")
    changed = _changed(shared, text.replace("400 fl oz", "390 fl oz"), check)
    row("  a container that every recipe uses changed", f"{changed / cold:.2f} x", "1.0 x")
    shared.write_text(text, encoding="utf-8")
    gc.enable()


def _changed(path: Path, text: str, check: Callable[[], object]) -> float:
    path.write_text(text, encoding="utf-8")
    return best(check, 1)


def menus(base: Path) -> None:
    """A school year of menus beside the library, against the library alone."""
    from menus import school_year

    from recipelang.workspace.check import check_paths

    folder = base / "library"
    gc.disable()
    alone = best(lambda: check_paths([folder], use_cache=False), 2)
    school_year(folder, 1000)
    both = best(lambda: check_paths([folder], use_cache=False), 2)
    gc.enable()
    row("a school year of menus of 3 programs added, against the recipes alone", f"{both / alone:.2f} x", "1.5 x")


def growth(base: Path) -> None:
    """Ten times the library; memory a recipe."""
    script = base / "grow.py"
    script.write_text(
        "import sys, time, resource, gc\n"
        "from pathlib import Path\n"
        "from generate import library\n"
        "folder = Path(sys.argv[1]); library(folder, int(sys.argv[2]))\n"
        "from recipelang.workspace.workspace import Workspace\n"
        "from recipelang.rules.catalogue import rules\n"
        "from recipelang.syntax.driver import driver\n"
        "rules(); driver(); gc.disable()\n"
        "start = time.process_time()\n"
        "workspace = Workspace.open([folder]); workspace.findings()\n"
        "print(time.process_time() - start, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)\n",
        encoding="utf-8",
    )

    def grow(count: int) -> tuple[float, float]:
        out = subprocess.run(
            [sys.executable, str(script), str(base / f"grow{count}"), str(count)],
            check=True, capture_output=True, text=True, cwd=base,
        ).stdout.split()  # fmt: skip
        return float(out[0]), float(out[1])

    one, memory_one = grow(1000)
    _, memory_five = grow(5000)
    ten, _ = grow(10000)
    row("ten times the library, in time", f"{ten / one:.1f} x", "11 x")
    row("resident growth from 1,000 to 5,000 recipes, a recipe", f"{(memory_five - memory_one) / 4000:.0f} kB", "60 kB")


def lengths() -> None:
    """Ten times the lines in one declaration, and ten times the length of one line."""
    from recipelang.workspace.workspace import Workspace

    def many(count: int) -> str:
        lines = "".join(f"        {number % 9 + 1} lb food number {number % 50}x\n" for number in range(count))
        foods = "".join(f"food food number {number}x\n" for number in range(50))
        return f"{foods}recipe long\n    makes 50 portions\n    ingredients\n{lines}"

    def long(count: int) -> str:
        return f"recipe long\n    makes 50 portions\n    steps\n        - {'stir and ' * count}\n"

    def cost(text: str) -> float:
        return best(lambda: Workspace.of({"a.recipe": text}).findings(), 5)

    row("ten times the lines in one recipe (200 to 2,000)", f"{cost(many(2000)) / cost(many(200)):.1f} x", "11 x")
    row(
        "ten times the length of one line (20,000 to 200,000 words)",
        f"{cost(long(100000)) / cost(long(10000)):.1f} x",
        "11 x",
    )


if __name__ == "__main__":
    main()
