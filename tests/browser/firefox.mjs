// A Firefox for the tests, driven over WebDriver BiDi by puppeteer-core.
//
//     node --experimental-websocket firefox.mjs PUPPETEER_CORE FIREFOX
//
// Reads one request a line, {do, …}, as JSON, and answers each with a line: {ok} or {error}.
//     open {url}            a tab with it, in place of the one before
//     run {script}          what the expression gives, as JSON
//     picture {}            what is on the screen, a PNG in base64
//     version {}
//     errors {}             what no page has dealt with
// Ends, and Firefox with it, when its input ends.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [puppeteerCore, firefox] = process.argv.slice(2);
// The modules for plain BiDi, by themselves, need none of the package's dependencies.
const part = (name) => import(pathToFileURL(join(puppeteerCore, "lib/esm/puppeteer", name)).href);
const { BidiBrowser } = await part("bidi/Browser.js");
const { BidiConnection } = await part("bidi/Connection.js");

const profile = mkdtempSync(join(tmpdir(), "ellwand-firefox-"));
const started = spawn(
  firefox,
  ["--headless", "--no-remote", "--remote-debugging-port", "0", "--profile", profile],
  { stdio: ["ignore", "ignore", "pipe"] },
);
const address = await new Promise((resolve, reject) => {
  let said = "";
  started.stderr.on("data", (text) => {
    said += text;
    const found = said.match(/WebDriver BiDi listening on (ws:\S+)/);
    if (found) resolve(`${found[1]}/session`);
  });
  started.on("exit", () => reject(new Error(`Firefox ended: ${said.slice(-500)}`)));
});
const socket = new WebSocket(address);
await new Promise((resolve, reject) => Object.assign(socket, { onopen: resolve, onerror: reject }));
const transport = { send: (text) => socket.send(text), close: () => socket.close() };
socket.onmessage = ({ data }) => transport.onmessage?.(data);
socket.onclose = () => transport.onclose?.();
let requests = 0;
const browser = await BidiBrowser.create({
  connection: new BidiConnection(address, transport, () => ++requests),
  closeCallback: async () => {},
  defaultViewport: { width: 360, height: 740 },
  capabilities: {},
});

let page;
const errors = [];
const verbs = {
  version: () => browser.version(),
  open: async ({ url }) => {
    await page?.close();
    page = await browser.newPage();
    page.on("pageerror", (error) => errors.push(String(error)));
    await page.goto(url, { waitUntil: "domcontentloaded" });
    return true;
  },
  run: ({ script }) => page.evaluate(script),
  picture: () => page.screenshot({ encoding: "base64" }),
  errors: () => errors,
};
const answer = (what) => process.stdout.write(`${JSON.stringify(what)}\n`);
answer({ ok: "ready" });
for await (const line of createInterface({ input: process.stdin })) {
  const request = JSON.parse(line);
  try {
    answer({ ok: (await verbs[request.do](request)) ?? null });
  } catch (error) {
    answer({ error: String(error?.message ?? error) });
  }
}
const ended = new Promise((resolve) => started.on("exit", resolve));
await browser.close().catch(() => started.kill());
await ended;
rmSync(profile, { recursive: true, force: true });
