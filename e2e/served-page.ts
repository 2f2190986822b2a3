// Starts what a user starts, the demo over a library of its own, and a browser to look at it.
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { chromiumPath } from "../tools/chromium.ts";
import { copyDemo } from "./shared-demo.ts";

const ROOT = join(import.meta.dirname, "..");
const BROWSER_ARGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export const hasChromium: boolean = chromiumPath() !== undefined;

export interface ServedPage {
  readonly address: string;
  /** Folder of the demo's library. */
  readonly library: string;
  readonly browser: Browser;
  /** The demo's story by number, from 1: its shot in the library, its recording and its sidecar. */
  readonly story: (number: number) => Promise<StoryShot>;
  /** A fresh page of the given width and theme: the screen of this hash address, else the shot of this number. */
  readonly open: (options?: OpenOptions) => Promise<OpenedPage>;
  readonly stop: () => Promise<void>;
}

interface StoryShot {
  readonly id: string;
  /** Of the recording, without its ending. */
  readonly name: string;
  readonly recording: () => Promise<Uint8Array>;
  readonly sidecar: () => Promise<Uint8Array>;
}

interface OpenOptions {
  readonly width?: number;
  readonly height?: number;
  readonly theme?: "sun" | "desk" | "dusk";
  /** Of the story, from 1. */
  readonly shot?: number;
  /** Another screen, by its address: "#/shots". */
  readonly hash?: string;
}

interface OpenedPage {
  readonly page: Page;
  /** Errors of the page and of its console, and policy violations. */
  readonly complaints: readonly string[];
  /** Everything the page asked for since it was opened. */
  readonly requests: readonly { readonly method: string; readonly url: string }[];
}

/** @param as  "demo": what a new user starts; "library": the same shots as a library of one's own */
export async function servedPage(as: "demo" | "library" = "demo"): Promise<ServedPage> {
  spawnSync(process.execPath, ["tools/build-page.ts"], { cwd: ROOT, stdio: "inherit" });
  const library = mkdtempSync(join(tmpdir(), "underfoot-e2e-"));
  await copyDemo(library);
  const shown = as === "demo" ? library : join(library, readdirSync(library)[0] ?? "");
  const server = spawn(
    process.execPath,
    [
      "packages/underfoot/bin/underfoot.js",
      as === "demo" ? "demo" : "serve",
      "--no-open",
      "--port",
      "0",
      "--library",
      shown,
    ],
    { cwd: ROOT, env: { ...process.env, UNDERFOOT_HOME: join(library, "home") } },
  );
  const { address, folder } = await announced(server);
  const executablePath = chromiumPath();
  const browser = await chromium.launch({ args: BROWSER_ARGS, ...(executablePath ? { executablePath } : {}) });
  return {
    address,
    library: folder,
    browser,
    story: (number) => storyShot(address, number),
    open: (options = {}) => openedPage(browser, address, options),
    stop: async () => {
      await browser.close();
      server.kill();
      rmSync(library, { recursive: true, force: true });
    },
  };
}

/** The command says where it serves and from which folder; anything else it says is the failure's reason. */
function announced(server: ChildProcess): Promise<{ readonly address: string; readonly folder: string }> {
  return new Promise((resolve, reject) => {
    let said = "";
    const listen = (bytes: Buffer): void => {
      said += bytes.toString();
      const found = /shots? of (\S+) at (http:\/\/\S+)/.exec(said);
      if (found) resolve({ folder: found[1] ?? "", address: found[2] ?? "" });
    };
    server.stdout?.on("data", listen);
    server.stderr?.on("data", listen);
    server.on("exit", () => reject(new Error(`The server ended before it served:\n${said}`)));
  });
}

async function openedPage(browser: Browser, address: string, options: OpenOptions): Promise<OpenedPage> {
  const { width = 1280, height = 900, theme = "desk", shot = 1, hash } = options;
  const page = await browser.newPage({ viewport: { width, height } });
  const complaints: string[] = [];
  const requests: { method: string; url: string }[] = [];
  page.on("pageerror", (fault) => complaints.push(fault.message));
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("request", (request) => requests.push({ method: request.method(), url: request.url() }));
  await page.addInitScript((word) => localStorage.setItem("underfoot theme", word), theme);
  if (hash !== undefined) {
    await page.goto(`${address}${hash}`);
    await page.waitForSelector("main");
    await settled(page);
    return { page, complaints, requests };
  }
  await page.goto(`${address}#/shot/${(await storyShot(address, shot)).id}`);
  await page.waitForSelector(".picture");
  await settled(page);
  return { page, complaints, requests };
}

async function storyShot(address: string, number: number): Promise<StoryShot> {
  const part = `demo-${String(number).padStart(2, "0")}-`;
  const found = (await (await fetch(`${address}api/shots?fileName=${part}`)).json()) as {
    rows: { id: string; fileName: string }[];
  };
  const row = found.rows[0];
  if (row === undefined) throw new Error(`the demo has no shot ${number}`);
  const bytes = async (what: string): Promise<Uint8Array> =>
    new Uint8Array(await (await fetch(`${address}api/shots/${row.id}/${what}`)).arrayBuffer());
  const name = row.fileName.replace(/\.c3d$/, "");
  return { id: row.id, name, recording: () => bytes("recording"), sidecar: () => bytes("sidecar") };
}

/** Goes to the shot of this number of the story and waits until it is drawn. */
export async function openShot(page: Page, shot: number): Promise<void> {
  const { origin } = new URL(page.url());
  const { id } = await storyShot(`${origin}/`, shot);
  await page.evaluate((hash) => {
    location.hash = hash;
  }, `#/shot/${id}`);
  await page.waitForFunction(
    (wanted) => document.querySelector("[data-shot]")?.getAttribute("data-shot") === wanted,
    id,
  );
  await page.waitForSelector(".picture");
  await settled(page);
}

/** Two frames after the page has nothing more to compute. */
export async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector("main")?.getAttribute("aria-busy") !== "true");
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
}

/** Drops files on the page as a person would: nothing but a DataTransfer. */
export async function dropFiles(
  page: Page,
  files: readonly { readonly name: string; readonly bytes: Uint8Array }[],
): Promise<void> {
  const plain = files.map(({ name, bytes }) => ({ name, base64: Buffer.from(bytes).toString("base64") }));
  await page.evaluate((given) => {
    const transfer = new DataTransfer();
    for (const { name, base64 } of given) {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
    }
    for (const kind of ["dragover", "drop"]) {
      document.body.dispatchEvent(new DragEvent(kind, { dataTransfer: transfer, bubbles: true, cancelable: true }));
    }
  }, plain);
}
