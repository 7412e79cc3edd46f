#!/usr/bin/env bash
# Installs code-server 4.100.3 (Code 1.100.3) into a folder, by hand-fitting: its own install script wants to download.
# Needs Node 20 and npm; on Debian: apt-get install libkrb5-dev pkg-config libsecret-1-dev libx11-dev libxkbfile-dev ripgrep
set -euo pipefail
folder=${1:?usage: code_server.sh FOLDER}
[ -x "$folder/ready" ] && exit 0

mkdir -p "$folder"
npm install --silent --ignore-scripts --prefix "$folder" code-server@4.100.3 puppeteer-core@24
modules=$folder/node_modules
code=$modules/code-server/lib/vscode
headers=$(dirname "$(dirname "$(node -p process.execPath)")")
gyp=$(npm root -g)/npm/node_modules/node-gyp/bin/node-gyp.js

(cd "$code" && npm install --silent --omit=dev --ignore-scripts)
(cd "$code/extensions" && npm install --silent --omit=dev --ignore-scripts)
for module in @parcel/watcher @vscode/spdlog node-pty native-watchdog kerberos @vscode/deviceid; do
    (cd "$code/node_modules/$module" && node "$gyp" rebuild --nodedir="$headers" >/dev/null 2>&1)
done
(cd "$modules/argon2" && npx --no-install node-pre-gyp rebuild --build-from-source --nodedir="$headers" >/dev/null 2>&1)
mkdir -p "$code/node_modules/@vscode/ripgrep/bin"
ln -sf "$(command -v rg)" "$code/node_modules/@vscode/ripgrep/bin/rg"
ln -sfn node_modules "$code/node_modules.asar"

printf '#!/bin/sh\nexec node "%s" "$@"\n' "$modules/code-server/out/node/entry.js" > "$folder/ready"
chmod +x "$folder/ready"
