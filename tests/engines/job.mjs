/**
 * The main job in another browser engine, by the protocol that every browser's driver speaks (W3C WebDriver): open, paste, ask,
 * use, link, reload, and the same from a file. `cargo verify` runs it where a driver is installed:
 * `node job.mjs DRIVER CAPABILITIES HOSTED FILE`.
 */

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { createServer } from "node:net";

const [driver, capabilities, hosted, file] = process.argv.slice(2);
/** How long a step may take, ms: an end for what hangs, no measure. */
const PATIENCE = 60_000;

const free = () =>
  new Promise((resolve) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });

const port = await free();
const process_ = spawn(driver, [`--port=${port}`], { stdio: "ignore" });
/** An element, as the protocol names one. */
const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";

async function send(method, path, body) {
  const reply = await fetch(`http://127.0.0.1:${port}${path}`, {
    method,
    ...(body ? { body: JSON.stringify(body), headers: { "content-type": "application/json" } } : {}),
  });
  const { value } = await reply.json();
  if (value?.error) throw new Error(`${path}: ${value.error}: ${value.message}`);
  return value;
}

/** Asks again until there is something. */
async function until(what, look) {
  const end = Date.now() + PATIENCE;
  let last = "nothing yet";
  while (Date.now() < end) {
    try {
      const found = await look();
      if (found) return found;
      last = "nothing yet";
    } catch (error) {
      last = error.message;
    }
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`${what}: ${last}`);
}

let session = "";
const at = (path) => `/session/${session}${path}`;
const run = (script, ...args) => send("POST", at("/execute/sync"), { script, args });
const go = (url) => send("POST", at("/url"), { url });
const address = () => run("return location.href");
const verdict = () => run("return document.querySelector('.verdict-text')?.textContent ?? ''");
const percents = () =>
  run("return [...document.querySelectorAll('.line > .number input')].map((one) => one.value)");

/** Presses what is called so, where it is seen, as a person does. */
async function press(name) {
  const button = await until(`a button “${name}”`, () =>
    run(
      `const found = [...document.querySelectorAll("button")].find((one) => one.textContent.trim().startsWith(arguments[0])
         && one.getClientRects().length && !one.disabled);
       found?.scrollIntoView({ block: "center" });
       return found;`,
      name,
    ),
  );
  await send("POST", at(`/element/${button[ELEMENT]}/click`), {});
}

async function opened(url) {
  await go(url);
  // In the reader's unit, which the browser's language decides.
  await until("a verdict", async () => /°[CF]/.test(await verdict()));
  return until("an address that holds the recipe", async () => {
    const now = await address();
    return now.includes("#v2_") && now;
  });
}

async function job(url) {
  await opened(url);
  await press("Paste a recipe");
  const box = await until("the box to paste into", () => run("return document.querySelector('dialog[open] #paste-text')"));
  await send("POST", at(`/element/${box[ELEMENT]}/value`), { text: "60 shea butter\n25 olive oil\n15 coconut oil" });
  await press("Put 3 lines on the bench");
  await until("the pasted recipe", async () => (await percents()).join() === "60,25,15");
  await until("its margin", () => run("return document.querySelector('.picture-frame .margin-length')?.textContent"));
  await press("Find a rework");
  await press("Use this");
  const used = await until("other percentages", async () => {
    const now = await percents();
    return now.join() !== "60,25,15" && now;
  });
  await until("a verdict that is not bad", () => run("return !document.querySelector('.verdict').matches('.bad, .waiting')"));
  const link = await until("its link", async () => {
    const now = await address();
    const amounts = [.../_of~([^_]*)/.exec(now)[1].split("~")].filter((_, i) => i % 2);
    return amounts.join() === used.join() && now;
  });
  const said = await verdict();

  await send("POST", at("/refresh"), {});
  await until("the same after a reload", async () => (await percents()).join() === used.join() && (await verdict()) === said);

  await go("about:blank");
  await opened(link);
  assert.equal((await percents()).join(), used.join(), "what the link opens");
  assert.equal(await verdict(), said, "the verdict of the link");
}

let failed = false;
try {
  await until("the driver", () => send("GET", "/status"));
  const { sessionId } = await send("POST", "/session", { capabilities: { alwaysMatch: JSON.parse(capabilities) } });
  session = sessionId;
  await send("POST", at("/window/rect"), { width: 1280, height: 900 });
  for (const url of [hosted, file]) {
    await job(url);
    console.log(`  the main job: ${url}`);
  }
} catch (error) {
  failed = true;
  console.error(error);
} finally {
  if (session) await send("DELETE", at("")).catch(() => {});
  process_.kill();
}
process.exit(failed ? 1 : 0);
