/** Starts the recipe language server and keeps it running in the Python environment that is selected. */

import * as vscode from "vscode";
import {
  LanguageClient,
  type LanguageClientOptions,
  RevealOutputChannelOn,
  type ServerOptions,
} from "vscode-languageclient/node";
import { commandsOfLenses, registerCommands } from "./commands";
import { onSelectedPythonChange, selectedPython } from "./python";
import { type Command, findServer } from "./server";

let client: LanguageClient | undefined;
let running: Command | undefined;
/** Starts and stops one after the other: two servers on one file would show each finding twice. */
let queue: Promise<void> = Promise.resolve();

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const log = vscode.window.createOutputChannel("Recipes", { log: true });
  const restart = (): Promise<void> => {
    queue = queue.then(async () => {
      await stop();
      await start(log);
    });
    return queue;
  };
  const restartIfOther = async (): Promise<void> => {
    const found = await command();
    if (found?.join("\0") !== running?.join("\0")) {
      await restart();
    }
  };
  context.subscriptions.push(
    log,
    vscode.commands.registerCommand("recipelang.restart", restart),
    vscode.commands.registerCommand("recipelang.showLog", () => log.show()),
    registerCommands(() => client),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration("recipelang.server")) {
        void restart();
      }
    }),
    vscode.workspace.onDidGrantWorkspaceTrust(restart),
    await onSelectedPythonChange(restartIfOther),
  );
  if (vscode.workspace.isTrusted) {
    await restart();
  }
}

export async function deactivate(): Promise<void> {
  await queue;
  await stop();
}

async function command(): Promise<Command | undefined> {
  const configured = vscode.workspace.getConfiguration("recipelang").get<string[]>("server", []);
  return findServer(configured, await selectedPython(vscode.window.activeTextEditor?.document.uri));
}

async function stop(): Promise<void> {
  const old = client;
  client = running = undefined;
  await old?.dispose();
}

async function start(log: vscode.LogOutputChannel): Promise<void> {
  running = await command();
  if (running === undefined) {
    log.warn("No recipelang was found: neither in the selected Python environment nor on the path.");
    void offerHelp();
    return;
  }
  const [executable, ...args] = running;
  log.info(`Starting ${running.join(" ")}`);
  const server: ServerOptions = { command: executable, args };
  const options: LanguageClientOptions = {
    documentSelector: [
      { language: "recipelang", scheme: "file" },
      { language: "recipelang", scheme: "untitled" },
      { pattern: "**/recipelang.toml", scheme: "file" },
    ],
    outputChannel: log,
    revealOutputChannelOn: RevealOutputChannelOn.Never,
    diagnosticCollectionName: "recipelang",
    initializationFailedHandler: () => false, // told once, by the failed start
  };
  client = new LanguageClient("recipelang", "Recipes", server, options);
  client.registerFeature(commandsOfLenses);
  try {
    await client.start();
  } catch (error) {
    log.error(String(error)); // the client has shown it
  }
}

async function offerHelp(): Promise<void> {
  const select = "Select Python Environment";
  const set = "Set the Command";
  const choice = await vscode.window.showWarningMessage(
    'Recipes are not checked: install the program with `pip install recipelang` into the Python environment that is selected here.',
    select,
    set,
  );
  if (choice === select) {
    await vscode.commands.executeCommand("python.setInterpreter").then(undefined, () => undefined);
  } else if (choice === set) {
    await vscode.commands.executeCommand("workbench.action.openSettings", "recipelang.server");
  }
}
