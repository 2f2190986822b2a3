import type { MiddlewareHandler } from "hono";

const LOOPBACK = /^(localhost|127(?:\.\d{1,3}){3}|\[::1\])(:\d+)?$/i;

/** Scripts, styles and workers from this server only; nothing is fetched from anywhere else. */
const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/**
 * Refuses whatever does not come from this machine's own page: another Host means a rebound name, another Origin means
 * some web page is asking. Answers carry a strict policy.
 */
export const localOnly: MiddlewareHandler = async (c, next) => {
  const host = c.req.header("host") ?? "";
  const origin = c.req.header("origin");
  if (!LOOPBACK.test(host))
    return c.json(
      { code: "host-refused", sentence: `This server answers on this machine only, not as "${host.slice(0, 80)}".` },
      421,
    );
  if (origin !== undefined && origin !== `http://${host}`)
    return c.json(
      { code: "origin-refused", sentence: "Another page asked for this player's data; it gets nothing." },
      403,
    );
  await next();
  c.header("Content-Security-Policy", CONTENT_SECURITY_POLICY);
  c.header("X-Content-Type-Options", "nosniff");
  c.header("Referrer-Policy", "no-referrer");
  c.header("Cross-Origin-Opener-Policy", "same-origin");
  c.header("Cross-Origin-Resource-Policy", "same-origin");
  return undefined;
};
