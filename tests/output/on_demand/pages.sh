#!/usr/bin/env bash
# A card, a card with open errors and a small book, held to HTML (html-validate, the Nu checker) and to accessibility (axe in
# headless Chromium, as phone, laptop and paper). Needs Node 20 with npm, Java 11, and `apt-get install chromium`.
# `pages.sh fast` is one card and the first validator, which takes seconds; it ends with 3 where npm can't install that.
set -euo pipefail
root=$(cd "$(dirname "$0")/../../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
echo '{"extends": ["html-validate:recommended"], "rules": {"long-title": "off"}}' >validate.json
python=${PYTHON:-$root/.venv/bin/python}
card() { (cd "$root/examples" && "$python" -m recipelang card "$@") }
card "apricot ricotta cup" -o "$work/card.html"
if [ "${1:-}" = fast ]; then
    npm install --silent --no-fund --no-audit html-validate@10 >npm.log 2>&1 || exit 3
    npx html-validate --config validate.json card.html
    exit
fi

npm install --silent --no-fund --no-audit html-validate@10 axe-core@4 playwright-core@1 vnu-jar@26 >npm.log 2>&1 || { cat npm.log >&2; exit 1; }

card "apricot ricotta cup" "naan dough" "steamed brown rice" "harbor stew bowl" "chicken cranberry bun" --paper a4 -o "$work/book.html"
card "naan dough" --side desk -o "$work/desk.html"
mkdir broken && cp "$root/examples/broken/unsafe-hold.recipe" broken
(cd broken && "$python" -m recipelang card --all -o "$work/errors.html") && exit 1  # an open error is exit code 1
grep -q "Do not cook from this card" errors.html

pages=(card.html book.html desk.html errors.html)
for page in "${pages[@]}"; do test -s "$page"; done  # the Nu checker says nothing of a file that is not there
npx html-validate --config validate.json "${pages[@]}"
java -jar node_modules/vnu-jar/build/dist/vnu.jar --errors-only "${pages[@]}"
cp "$root/tests/output/on_demand/pages.mjs" .
node pages.mjs "${pages[@]}"
