import type { MiddlewareHandler } from "hono";
import { serverFaults } from "./faults.ts";
import { refusal } from "./refusal.ts";

const LOOPBACK = /^(localhost|127(?:\.\d{1,3}){3}|\[::1\])(:\d{1,5})?$/i;

/**
 * Scripts, styles, workers and the socket of changes from this server only; nothing is fetched from anywhere else. WebAssembly may be compiled
 * (the loop of the whole-curve tests); text is never run as a script.
 */
const contentSecurityPolicy = (host: string): string =>
  [
    "default-src 'none'",
    "script-src 'self' 'wasm-unsafe-eval'",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    `connect-src 'self' ws://${host}`,
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; ");

/**
 * Refuses whatever does not come from this machine's own page or programs: another Host means a rebound name, another
 * Origin means some web page is asking, a socket's upgrade as well as a request. Answers carry a strict policy.
 */
export const localOnly: MiddlewareHandler = async (c, next) => {
  const host = c.req.header("host") ?? "";
  if (!LOOPBACK.test(host)) return refusal(c, serverFaults.hostRefused(host));
  c.header("Content-Security-Policy", contentSecurityPolicy(host));
  c.header("X-Content-Type-Options", "nosniff");
  c.header("Referrer-Policy", "no-referrer");
  c.header("Cross-Origin-Opener-Policy", "same-origin");
  c.header("Cross-Origin-Resource-Policy", "same-origin");
  const origin = c.req.header("origin");
  const isOther = origin !== undefined && origin !== `http://${host}`;
  // A browser says so too where it sends no Origin: a picture or a script of another page.
  const site = c.req.header("sec-fetch-site");
  const isFromOther = (site === "cross-site" || site === "same-site") && c.req.header("sec-fetch-mode") !== "navigate";
  if (isOther || isFromOther) return refusal(c, serverFaults.originRefused());
  await next();
  return undefined;
};
