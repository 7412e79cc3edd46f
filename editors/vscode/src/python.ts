/** The Python environment that is selected in the editor, where the Python extension is installed. */

import * as vscode from "vscode";

interface Environments {
  getActiveEnvironmentPath(resource?: vscode.Uri): { path: string };
  resolveEnvironment(path: { path: string }): Promise<{ executable: { uri?: vscode.Uri } } | undefined>;
  onDidChangeActiveEnvironmentPath(listener: () => unknown): vscode.Disposable;
}

/** The interpreter selected for a file. */
export async function selectedPython(resource?: vscode.Uri): Promise<string | undefined> {
  const environments = await pythonEnvironments();
  if (environments === undefined) {
    return undefined;
  }
  const environment = await environments.resolveEnvironment(environments.getActiveEnvironmentPath(resource));
  return environment?.executable.uri?.fsPath;
}

/** Calls back when another environment is selected. */
export async function onSelectedPythonChange(listener: () => unknown): Promise<vscode.Disposable> {
  const environments = await pythonEnvironments();
  return environments?.onDidChangeActiveEnvironmentPath(listener) ?? new vscode.Disposable(() => undefined);
}

async function pythonEnvironments(): Promise<Environments | undefined> {
  const python = vscode.extensions.getExtension<{ environments?: Environments }>("ms-python.python");
  try {
    return (await python?.activate())?.environments;
  } catch {
    return undefined; // a broken Python extension is no reason to leave recipes unchecked
  }
}
