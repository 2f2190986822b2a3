// Starts what a user starts, the demo over a library of its own, and a browser to look at it.
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
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
  /** A fresh page of the given width and theme: the screen of this hash address, else the shot of this number. */
  readonly open: (options?: OpenOptions) => Promise<OpenedPage>;
  readonly stop: () => Promise<void>;
}

interface OpenOptions {
  readonly width?: number;
  readonly height?: number;
  readonly theme?: "sun" | "desk" | "dusk";
  /** From 1. */
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

export async function servedPage(): Promise<ServedPage> {
  spawnSync(process.execPath, ["tools/build-page.ts"], { cwd: ROOT, stdio: "inherit" });
  const library = mkdtempSync(join(tmpdir(), "underfoot-e2e-"));
  await copyDemo(library);
  const server = spawn(
    process.execPath,
    ["packages/underfoot/bin/underfoot.js", "demo", "--no-open", "--port", "0", "--library", library],
    { cwd: ROOT },
  );
  const { address, folder } = await announced(server);
  const executablePath = chromiumPath();
  const browser = await chromium.launch({ args: BROWSER_ARGS, ...(executablePath ? { executablePath } : {}) });
  return {
    address,
    library: folder,
    browser,
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
  await page.goto(hash === undefined ? address : `${address}${hash}`);
  if (hash !== undefined) {
    await page.waitForSelector("main");
    await settled(page);
    return { page, complaints, requests };
  }
  await page.waitForSelector(".picture");
  if (shot > 1) await openShot(page, shot);
  return { page, complaints, requests };
}

/** Opens the shot of this number from the list and waits until it is drawn. */
export async function openShot(page: Page, shot: number): Promise<void> {
  await page.locator(".strip select").selectOption({ index: shot - 1 });
  await page.waitForFunction(
    (number) => document.querySelector("h1")?.textContent?.startsWith(`Shot ${number},`),
    shot,
  );
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
