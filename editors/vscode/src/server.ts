/** Finds the command that starts the server; knows nothing of VS Code. */

import { execFile } from "node:child_process";
import { access, constants } from "node:fs/promises";
import { delimiter, join } from "node:path";

export type Command = [string, ...string[]];

/** The command from the settings, else of the selected Python where recipelang is installed in it, else from the path. */
export async function findServer(configured: string[], python: string | undefined): Promise<Command | undefined> {
  const [executable, ...args] = configured;
  if (executable !== undefined) {
    return [executable, ...args];
  }
  if (python !== undefined && (await hasRecipelang(python))) {
    return [python, "-m", "recipelang", "server"];
  }
  const found = await onPath(process.platform === "win32" ? "recipelang.exe" : "recipelang");
  return found === undefined ? undefined : [found, "server"];
}

/** Whether a Python can run the server, asked without importing it. */
function hasRecipelang(python: string): Promise<boolean> {
  const probe = "import sys, importlib.util as u; sys.exit(0 if u.find_spec('recipelang') and u.find_spec('pygls') else 1)";
  return new Promise((resolve) => {
    execFile(python, ["-c", probe], { timeout: 10_000 }, (error) => resolve(error === null));
  });
}

async function onPath(name: string): Promise<string | undefined> {
  for (const folder of (process.env["PATH"] ?? "").split(delimiter)) {
    const candidate = join(folder, name);
    try {
      await access(candidate, constants.X_OK);
      return candidate;
    } catch {
      // not here
    }
  }
  return undefined;
}
