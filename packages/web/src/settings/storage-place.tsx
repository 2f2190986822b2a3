import type { About, SettingsShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../api/call.ts";
import { useDeed } from "../api/use-deed.ts";
import { FaultNote } from "../frame/fault-note.tsx";

/** The folder of the library and that of its daily backups, each changed by writing another. */
export function StoragePlace({
  about,
  settings,
}: {
  readonly about: About;
  readonly settings: SettingsShape;
}): ReactElement {
  return (
    <section aria-labelledby="storage-title">
      <h2 id="storage-title">Storage place</h2>
      <p className="small">
        Everything stays on this machine{about.engine === "postgres" ? " and your own catalogue server" : ""}. Nothing
        is sent anywhere.
      </p>
      <FolderField
        word="Library"
        folder={about.folder}
        act="Open the library there"
        hint="A folder without a library gets a new, empty one. What lies in the present folder stays there."
        onFolder={(folder) => call("put /api/place", { json: { folder } })}
      />
      <FolderField
        word={settings.isBackupFolderDefault ? "Daily backups (as left out)" : "Daily backups"}
        folder={settings.backupFolder}
        act="Keep backups there"
        hint="A folder on another disk survives this one. Seven days are kept; an empty field goes back to the library's own folder."
        onFolder={(folder) => call("patch /api/settings", { json: { backupFolder: folder === "" ? null : folder } })}
      />
    </section>
  );
}

interface FolderFieldProps {
  readonly word: string;
  readonly folder: string;
  readonly act: string;
  readonly hint: string;
  readonly onFolder: (folder: string) => Promise<unknown>;
}

function FolderField({ word, folder, act, hint, onFolder }: FolderFieldProps): ReactElement {
  const [text, setText] = useState<string>();
  const deed = useDeed();
  const isOther = text !== undefined && text !== folder;
  return (
    <form
      className="folder"
      onSubmit={(event) => {
        event.preventDefault();
        if (text !== undefined) void deed.run(() => onFolder(text.trim())).then((done) => done && setText(undefined));
      }}
    >
      <label className="field">
        {word}
        <input
          value={text ?? folder}
          onChange={({ target }) => setText(target.value)}
          spellCheck={false}
          autoComplete="off"
        />
      </label>
      <button type="submit" className="btn" disabled={!isOther || deed.isBusy}>
        {act}
      </button>
      <p className="caption">{hint}</p>
      <FaultNote fault={deed.fault} />
    </form>
  );
}
