import type { ColumnMapping } from "@underfoot/formats";
import type { FirstLook } from "@underfoot/pipeline";
import { useEffect, useState } from "react";
import { type Computer, ComputingStopped } from "../computing/computer.ts";
import type { PickedRecording } from "./picked-folders.ts";
import { unreadFile } from "./use-file-kinds.ts";

/** The first look at one file by a mapping; the last one stays while a newer is on its way. */
export function useFirstLook(
  { file, sidecar }: PickedRecording,
  mapping: ColumnMapping | undefined,
  computer: Computer,
): { readonly look: FirstLook | undefined; readonly isBusy: boolean } {
  const [state, setState] = useState<{ look?: FirstLook; of?: { file: File; mapping: ColumnMapping | undefined } }>({});
  useEffect(() => {
    let isWanted = true;
    const ask = async (): Promise<FirstLook> => {
      try {
        const bytes = new Uint8Array(await file.arrayBuffer());
        const sidecarText = await sidecar?.file.text();
        return await computer.ask("first-look", {
          ...{ bytes, file: file.name },
          ...(mapping === undefined ? {} : { mapping }),
          ...(sidecarText === undefined ? {} : { sidecarText }),
        });
      } catch (cause) {
        if (!(cause instanceof DOMException)) throw cause;
        return unreadFile(file.name);
      }
    };
    ask().then(
      (look) => isWanted && setState({ look, of: { file, mapping } }),
      (fault: unknown) => {
        if (!(fault instanceof ComputingStopped)) throw fault;
      },
    );
    return () => {
      isWanted = false;
    };
  }, [file, sidecar, mapping, computer]);
  return { look: state.look, isBusy: state.of?.file !== file || state.of.mapping !== mapping };
}
