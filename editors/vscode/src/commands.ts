/** What an author asks of the server by name: the card of a recipe or menu, where a figure comes from, what a change means. */

import * as vscode from "vscode";
import {
  type ClientCapabilities,
  ExecuteCommandRequest,
  type LanguageClient,
  type Location,
  type Position,
  type StaticFeature,
} from "vscode-languageclient/node";

const SHOW_REFERENCES = "recipelang.showReferences";

/** Tells the server which commands of its code lenses this editor has. */
export const commandsOfLenses: StaticFeature = {
  fillClientCapabilities: (capabilities: ClientCapabilities): void => {
    capabilities.experimental = { ...capabilities.experimental, commands: [SHOW_REFERENCES] };
  },
  initialize: () => undefined,
  getState: () => ({ kind: "static" }),
  clear: () => undefined,
};

/** Registers the commands; the client is asked for each time, for it changes when the server is started anew. */
export function registerCommands(client: () => LanguageClient | undefined): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.commands.registerTextEditorCommand("recipelang.showCard", (editor) => ask(client(), "recipelang.card", editor)),
    vscode.commands.registerTextEditorCommand("recipelang.showCardFor", async (editor) => {
      const portions = await vscode.window.showInputBox({ prompt: "For how many portions?", placeHolder: "275" });
      if (portions) {
        await ask(client(), "recipelang.card", editor, { portions });
      }
    }),
    vscode.commands.registerTextEditorCommand("recipelang.showTrace", async (editor) => {
      const figure = await vscode.window.showInputBox({
        prompt: "Which figure? For example: cost, credits fruit, allergens milk, sodium, yield, fill, safety.",
        placeHolder: "cost",
      });
      if (figure) {
        await ask(client(), "recipelang.trace", editor, { figure });
      }
    }),
    vscode.commands.registerTextEditorCommand("recipelang.showChanges", (editor) =>
      ask(client(), "recipelang.sinceLastCommit", editor),
    ),
    vscode.commands.registerTextEditorCommand("recipelang.showWithout", (editor) =>
      ask(client(), "recipelang.without", editor),
    ),
    vscode.commands.registerCommand(SHOW_REFERENCES, (uri: string, position: Position, locations: Location[]) => {
      const convert = client()?.protocol2CodeConverter;
      return (
        convert &&
        vscode.commands.executeCommand(
          "editor.action.showReferences",
          convert.asUri(uri),
          convert.asPosition(position),
          locations.map((one) => convert.asLocation(one)),
        )
      );
    }),
  );
}

/** Has the server show something of the declaration at the cursor: it opens the text itself. */
async function ask(
  client: LanguageClient | undefined,
  command: string,
  editor: vscode.TextEditor,
  more: Record<string, string> = {},
): Promise<void> {
  if (!client?.isRunning()) {
    void vscode.window.showWarningMessage("The recipe server is not running.");
    return;
  }
  const { document, selection } = editor;
  const convert = client.code2ProtocolConverter;
  const place = { uri: convert.asUri(document.uri), position: convert.asPosition(selection.active) };
  try {
    await client.sendRequest(ExecuteCommandRequest.type, { command, arguments: [{ ...place, ...more }] });
  } catch (error) {
    void vscode.window.showWarningMessage(error instanceof Error ? error.message : String(error));
  }
}
