import type { Answer } from "@underfoot/protocol";

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? "" : "s"}`;

/** What was removed, in words, and what still holds the person. */
export function forgottenText(code: string, gone: Answer<"delete /api/players/{id}">): string {
  const removed = [
    counted(gone.sessions, "session"),
    counted(gone.shots, "shot"),
    counted(gone.recordings, "recording"),
    counted(gone.footOutlines, "foot outline"),
    `${gone.historyEntries} lines of the history`,
  ];
  const backups =
    gone.backupsElsewhere.length === 0
      ? "No backup in the backup folder holds the player."
      : `These backups still hold the player and have to be removed by hand: ${gone.backupsElsewhere.join(", ")}.`;
  return `${code} is forgotten: ${removed.join(", ")}. ${backups} ${gone.elsewhere}`.trim();
}
