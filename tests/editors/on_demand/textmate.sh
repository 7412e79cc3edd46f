#!/usr/bin/env bash
# The TextMate grammar on tests/editors/highlighting, by vscode-tmgrammar-test. Needs Node 20 and npm.
set -euo pipefail
cd "$(dirname "$0")/../../.."
tools=${TMPDIR:-/tmp}/recipelang-textmate
npm install --silent --prefix "$tools" vscode-tmgrammar-test@0.1.3
"$tools/node_modules/.bin/vscode-tmgrammar-test" \
    -g editors/vscode/syntaxes/recipelang.tmLanguage.json "tests/editors/highlighting/*.recipe"
