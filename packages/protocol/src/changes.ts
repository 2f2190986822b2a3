/** One line of the WebSocket /api/changes, as JSON: told after each change is on the disk. */
export interface ChangeMessage {
  readonly kind:
    | "player"
    | "club"
    | "layout"
    | "session"
    | "check"
    | "shot"
    | "result"
    | "setting"
    | "elsewhere"
    | "job"
    | "place";
  readonly id: string;
  /** In words. */
  readonly deed: string;
  readonly sessionId?: string;
}
