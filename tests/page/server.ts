/** What was built last, served by a plain host at its root, as `cargo page serve` serves it from a folder. */

import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname } from "node:path";
import { fileOf, SINGLE_FILE } from "./support.js";

const TYPES: Record<string, string> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".wasm": "application/wasm",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

export interface Host {
  url: string;
  close(): void;
}

/** Serves `dist/`; `change` may hand out something else for a path. */
export async function serveAtRoot(change = (_: string, body: Buffer): Buffer => body): Promise<Host> {
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://page").pathname.replace(/\/$/, "/index.html");
    try {
      const body = change(path, readFileSync(fileOf(`../../dist${path}`)));
      response
        .writeHead(200, {
          "content-type": TYPES[extname(path)] ?? "application/octet-stream",
        })
        .end(body);
    } catch {
      response.writeHead(404).end();
    }
  }).listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close: () => server.close(),
  };
}

/** Where the page may come from: the root of a host, a folder of one, or the disk. */
export const deliveries = (host: () => Host): [string, () => string][] => [
  ["hosted", () => host().url],
  ["in a folder", () => "./"],
  ["the single file", () => SINGLE_FILE],
];
