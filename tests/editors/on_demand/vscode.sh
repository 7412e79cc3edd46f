#!/usr/bin/env bash
# The VS Code extension, packaged and installed into code-server, driven in a headless browser: pictures go to a folder.
#
#   tests/editors/on_demand/vscode.sh PICTURES
#
# Needs what code_server.sh needs, Chromium, and `recipelang` on the path or in the environment that is active.
set -euo pipefail
pictures=$(realpath -m "${1:?usage: vscode.sh PICTURES}")
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
tools=${TMPDIR:-/tmp}/recipelang-code-server
port=${PORT:-18431}
mkdir -p "$pictures"

"$here/code_server.sh" "$tools"

work=$(mktemp -d)
server=
finish() {
    [ -z "$server" ] || kill "$server"
    find "$work/data/logs" -name '*Recipes*.log' -exec cp {} "$pictures/recipes.log" \; 2>/dev/null || true
    rm -rf "$work"
}
trap finish EXIT
mkdir "$work/extension"
tar -C "$root/editors/vscode" --exclude=./node_modules --exclude=./dist --exclude='*.vsix' -cf - . | tar -C "$work/extension" -xf -
(cd "$work/extension" && npm ci --silent && npm run --silent package)

PYTHONPATH=$root python -c "
from pathlib import Path
from tests.editors.library import write_library
write_library(Path('$work/library'))"
mkdir -p "$work/data/User"
cat > "$work/data/User/settings.json" <<SETTINGS
{
  "recipelang.server": ["$(command -v recipelang)", "server"],
  "security.workspace.trust.enabled": false,
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
  "telemetry.telemetryLevel": "off"
}
SETTINGS
options=(--user-data-dir "$work/data" --extensions-dir "$work/extensions" --config "$work/config.yaml")
"$tools/ready" "${options[@]}" --install-extension "$work/extension"/recipelang-*.vsix
"$tools/ready" "${options[@]}" --auth none --bind-addr "127.0.0.1:$port" --disable-telemetry --disable-update-check \
    "$work/library" > "$pictures/code-server.log" 2>&1 &
server=$!
curl --silent --fail --retry 60 --retry-delay 1 --retry-connrefused --output /dev/null "http://127.0.0.1:$port/healthz"

cp "$here/vscode.mjs" "$tools/vscode.mjs" # beside the modules that it imports
node "$tools/vscode.mjs" "http://127.0.0.1:$port/?folder=$work/library" "$work/library" "$pictures"
