"""`recipelang explain`: a rule's manual page, or the list of rules."""

from __future__ import annotations

import argparse
import sys

from recipelang.commands import CommandError
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import listed
from recipelang.rules.catalogue import names, page, rules


def run(options: argparse.Namespace) -> int:
    from recipelang.output.explanation import catalogue_text, page_text

    if not options.rule:
        sys.stdout.write(catalogue_text())
        return 0
    name = options.rule.casefold()
    found = page(name)
    if found is None:
        near = nearest(name, names(), 3)
        hint = f"; did you mean {listed(near, 'or')}?" if near else "; `recipelang explain` lists them"
        raise CommandError(f"no rule is called `{options.rule}`{hint}")
    sys.stdout.write(page_text(found, rules()[name]))
    return 0
