/**
 * Start Python in Node from what a reader's browser starts from, and ask it what stands in a file.
 *
 *   node restored.mjs FOLDER PARTS MESSAGES ANSWERS
 *   node restored.mjs FOLDER PARTS
 *
 * FOLDER and PARTS: as browser_python.py made them; MESSAGES: a JSON list of texts, of {run} with a line of Python, or
 * of {came}, to be told which parts of the code came so far. Writes the answers into ANSWERS as JSON, each a text, or
 * {failed} with the last lines of the traceback. Without files a message a line comes in, and [answer, bytes of memory] a
 * line goes out.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { gunzipSync } from "node:zlib";
import { pathToFileURL } from "node:url";
import { writeOut } from "../../docs/assets/memory.js";

const [folder, facts, messages, output] = process.argv.slice(2);
const { info, snapshot, shared, chain, tables, later } = JSON.parse(readFileSync(facts, "utf8"));
const wasm = gunzipSync(readFileSync(`${folder}/runtime.bin`));
const memory = new Uint8Array(snapshot.room);
memory.set(gunzipSync(readFileSync(`${folder}/snapshot.bin`)));
writeOut(memory, wasm, { shared, chain, tables });

const instantiate = WebAssembly.instantiate; // Node reads the file itself; give it what the browser is given
WebAssembly.instantiate = (_, imports) => instantiate(wasm, imports);
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
const pyodide = await loadPyodide({
  indexURL: folder,
  stdLibURL: new URL("empty.zip", import.meta.url).pathname,
  lockFileContents: JSON.stringify({ info, packages: {} }),
  _loadSnapshot: memory,
});
const [answer, tidy, come] = pyodide.pyimport("calculators.browser_start").start();
/** @type {string[]} */
const came = [];
/** @param {string} name */
function bring(name) {
  came.push(name);
  come(name, pyodide.toPy(new Uint8Array(gunzipSync(readFileSync(`${folder}/${later[name].file}`)))));
}
/** @param {string} message */
function answered(message) {
  for (;;) {
    const said = answer(message);
    if (!said.startsWith("\0")) return said;
    bring(said.slice(1));
  }
}
/** @param {string} line */
function done(line) {
  for (;;) {
    try {
      return pyodide.runPython(line);
    } catch (error) {
      const lacking = /^calculators\.later\.NotHereYet: (\w+)$/m.exec(error.message);
      if (!lacking) throw error;
      bring(lacking[1]);
    }
  }
}
/** @param {any} message */
function told(message) {
  try {
    if (message.came) return came.join(" ");
    if (message.memory) return pyodide._module.HEAPU8.length;
    return message.run ? done(message.run) : answered(message);
  } catch (error) {
    return { failed: String(error.message).slice(-1500) };
  } finally {
    tidy();
  }
}
if (messages) writeFileSync(output, JSON.stringify(JSON.parse(readFileSync(messages, "utf8")).map(told)));
else
  for await (const line of createInterface({ input: process.stdin }))
    process.stdout.write(`${JSON.stringify([told(line), pyodide._module.HEAPU8.length])}\n`);
process.exit(0);
