#!/usr/bin/env bash
# Makes the pictures that stand in the README, in examples/prints. Needs recipelang[pdf] and `apt-get install poppler-utils`.
set -euo pipefail
root=$(cd "$(dirname "$0")/../../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
python=${PYTHON:-$root/.venv/bin/python}
card() { (cd "$root/examples" && "$python" -m recipelang card "$@") }
picture() { pdftoppm -r 80 -f "$2" -l "$2" -png -singlefile "$work/$1.pdf" "$root/examples/prints/$3" 2>/dev/null; }

mkdir -p "$root/examples/prints" "$work/broken"
card "apricot ricotta cup" -o "$work/cup.pdf"
card "naan dough" --portions 96,150 -o "$work/dough.pdf"
cp "$root/examples/broken/unsafe-hold.recipe" "$work/broken"
(cd "$work/broken" && "$python" -m recipelang card --all -o "$work/error.pdf") && exit 1
picture cup 1 wall
picture cup 2 office
picture dough 1 batch
picture error 1 error
ls -l "$root/examples/prints"
