// What server and page say to each other: every address once, with the shape of what is asked and answered. The server
// parses by it, the page is typed by it, the published description is made from it. Knows no disk, no page and no formula.

export { type BringInAsk, bringInAsk, type CheckAsk, checkAsk } from "./asks.ts";
export type { ChangeMessage } from "./changes.ts";
export { type Address, type Answer, type Ask, type Routes, routes } from "./routes.ts";
export type * from "./shapes.ts";
