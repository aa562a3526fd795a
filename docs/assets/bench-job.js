/**
 * <bench-job>: the job sheet to work on. What stands on it is made by Python's one renderer; here it is
 * filled from the storage, written back, photographed, exported, imported and printed.
 */
import {
  add, allJobs, asItStands, askToPersist, beginJob, chooseCard, forgetThrown, keepReadings, keeps, keptJob, lastExport, noteExport,
  photograph, remove, takeBack, takeIn, takeUpJob, theJob, throwAway, thrownJobs, whyNotKept, write,
} from "./job.js";
import { LiveElement, button, find, make } from "./elements.js";
import { merged, withUnits } from "./merge-jobs.js";
import { inReadersWay, writtenTime } from "./locale.js";
import { keepPicture, whyNoPicture } from "./photographs.js";
import { ask } from "./python.js";
import "./bench-tags.js";
import cards from "./cards.js";
import { download } from "./files.js";
import { FORMATS, exported, fileOf, nameOf } from "./job-file.js";
import release from "./release.js";

const LARGEST = 200_000_000; // bytes of a file that is taken in
const LARGEST_JOB = 20_000_000; // of the jobs in it
const MOST_SAID = 20; // lines of what was left out
const A_DAY = 24 * 3600_000; // ms for which a job that was thrown away can be taken back
const STALE = 14 * 24 * 3600_000; // ms without an export before the page says so
const SKELETON = `
<p class="bench-status" role="status"></p>
<p class="bench-job-kept"></p>
<div class="bench-fields">
<div class="bench-field"><label for="job-chosen">Job in hand</label><select id="job-chosen" class="bench-job-chosen"></select></div>
<div class="bench-field"><label for="job-card">Engine card</label><select id="job-card" class="bench-job-card"></select></div>
</div>
<div class="bench-job-thrown" role="group" aria-label="Thrown away" hidden></div>
<div class="bench-buttons"><button type="button" data-do="begin">Begin another job</button></div>
<details class="bench-more bench-job-menu">
<summary>Files and printing</summary>
<div class="bench-buttons" role="group" aria-label="Files">
<button type="button" data-do="exportJob">Export this job</button>
<button type="button" data-do="byLight">Show it to another phone</button>
<button type="button" data-do="fromLight">Take a job from a screen</button>
<button type="button" data-do="exportAll">Export all, with photographs</button>
<button type="button" data-do="csv">Readings as CSV</button>
<label class="bench-file">Import a file<input type="file" class="bench-aloud" accept=".json,.zip,application/json,application/zip"></label>
</div>
<div class="bench-buttons" role="group" aria-label="On paper">
<button type="button" data-paper="measuring-empty">Print an empty measuring sheet</button>
<button type="button" data-paper="measuring">Print the measuring sheet</button>
<button type="button" data-paper="strip">Print the bench strip</button>
<button type="button" data-paper="run-in">Print the run-in card</button>
<button type="button" data-paper="handover">Print the handover</button>
<button type="button" data-do="handoverFile">Handover as a file</button>
</div>
<div class="bench-buttons"><button type="button" data-do="discard">Throw this job away</button></div>
</details>
<details class="bench-more bench-job-shop"><summary>Jobs of this shop</summary><div></div></details>
<div class="bench-job-incoming" role="group" aria-label="What the file would change" tabindex="-1" hidden></div>
<div class="bench-job-sheet"></div>
<h2 id="photographs">Photographs</h2>
<p class="bench-hint">Kept on this device, scaled down. Only <em>Export all, with photographs</em> takes them along; the handover shows none.</p>
<div class="bench-job-photographs"></div>
<p class="bench-buttons"><label class="bench-file">Add a photograph<input type="file" class="bench-aloud bench-job-camera" accept="image/*"></label></p>`;

class BenchJob extends LiveElement {
  /** @type {string[]} */
  #addresses = [];
  /** @type {Control | undefined} */
  #typedIn; // the box that was typed in last
  #typings = 0;

  /** @param {AbortSignal} signal */
  arrive(signal) {
    this.innerHTML = SKELETON;
    addEventListener("bench-job", ({ detail }) => detail.here !== this && this.#show(), { signal });
    this.addEventListener("input", (event) => this.#typed(event.target), { signal });
    this.addEventListener("change", (event) => this.#chosen(event.target), { signal });
    this.addEventListener("click", ({ target }) => target instanceof Element && this.#clicked(target.closest("button")), { signal });
    this.addEventListener("toggle", ({ target }) => target instanceof HTMLDetailsElement && !target.open && this.#closed(target), { signal, capture: true });
    this.#find("shop").addEventListener("toggle", () => this.#showShop(), { signal });
    addEventListener("hashchange", () => this.#openIfWanted(), { signal });
    this.#show().then(() => this.#openIfWanted());
  }

  /** A link to a cylinder opens what the job knows of it. */
  #openIfWanted() {
    const [, name] = location.hash.match(/^#(cylinder-\d+)$/) ?? [];
    const fold = name && this.querySelector(`#${name}`);
    if (!(fold instanceof HTMLDetailsElement)) return;
    fold.open = true;
    requestAnimationFrame(() => fold.scrollIntoView({ block: "start" }));
  }

  async #showShop() {
    const fold = this.#find("shop", HTMLDetailsElement);
    if (!fold.open) return;
    const sheet = { takeUp: takeUpJob, look: (/** @type {File} */ file) => this.#look(file), exportAll: () => this._exportAll() };
    await (await import("./shop-jobs.js")).fill(find(fold, "div"), sheet);
  }

  /** @template {typeof Element} [Kind=typeof HTMLElement] @param {string} name @param {Kind} [kind] */
  #find(name, kind) {
    return find(this, `.bench-job-${name}`, kind);
  }

  /** @param {string} words @param {...Node} buttons */
  #say(words, ...buttons) {
    find(this, ".bench-status").replaceChildren(words, ...buttons);
  }

  /** Say that something was taken out, and offer it back. @param {() => Promise<unknown>} putBack */
  #sayTakenOut(putBack) {
    const back = async () => {
      await putBack();
      await this.#show();
      this.#say("It is back.");
    };
    this.#say("Taken out. ", button("Put it back", back));
  }

  async #show() {
    const job = await theJob();
    await this.#sayKept();
    await this.#showThrown();
    const all = await allJobs();
    options(this.#find("chosen"), all.map((one) => [one.id, nameOf(one)]), job.id);
    const choices = Object.entries(cards).map(([name, card]) => [name, card.name]);
    if (job.card?.data) choices.push([job.card.name, `${job.card.data.name} (this job’s own)`]);
    options(this.#find("card"), choices, job.card?.name ?? release.card);
    try {
      let html;
      let before;
      do { // what is typed while Python works stays in its box
        before = this.#typings;
        ({ html } = await ask({ want: "job", job: await theJob(), card: job.card ?? release.card }));
        if (!this.isConnected) return;
      } while (before !== this.#typings);
      const focused = document.activeElement?.id;
      const open = [...this.#find("sheet").querySelectorAll("details[open]")].map(({ id }) => id);
      this.#find("sheet").innerHTML = html;
      inReadersWay(this.#find("sheet"));
      for (const id of open) document.getElementById(id)?.setAttribute("open", "");
      if (focused?.startsWith("job-")) document.getElementById(focused)?.focus();
    } catch {
      this.#say("The sheet cannot be drawn. What you typed is kept.");
    }
    await this.#showPhotographs(job);
    await this.#showShop();
  }

  /** What was thrown away in the last day can be taken back. */
  async #showThrown() {
    const place = this.#find("thrown");
    const lines = (await thrownJobs()).map(({ job, when }) => {
      const name = nameOf(job);
      const until = writtenTime(new Date(Date.parse(when) + A_DAY).toISOString());
      const aloud = () => make("span", { className: "bench-aloud" }, `: ${name}`);
      const back = button("Take it back", async () => (await takeBack(job.id), this.#say(`${name} is back, and in hand.`)));
      const end = button("Delete it for good", async () => {
        if (!confirm(`Delete ${name} with all its readings and photographs now? This cannot be undone.`)) return;
        await forgetThrown(job.id);
        await this.#show();
        this.#say(`${name} is deleted.`);
      });
      back.append(aloud());
      end.append(aloud());
      return [make("p", {}, `${name} was thrown away. It can be taken back until ${until}.`), make("p", { className: "bench-buttons" }, back, end)];
    });
    place.replaceChildren(...lines.flat());
    place.hidden = !lines.length;
  }

  async #sayKept() {
    const exported = await lastExport();
    const old = !exported || Date.now() - Date.parse(exported) > STALE;
    const when = exported ? `Last export: ${writtenTime(exported)}.` : "Not exported yet.";
    this.#find("kept").textContent = (await keeps())
      ? `${whyNotKept() || "Kept in this browser on this device, at each change."} ${when}${old ? " Browsers may clear what a site keeps after weeks without a visit: export a copy." : ""}`
      : "This browser forgets the job when the tab is closed. Export it first.";
  }

  /** @param {Job} job */
  async #showPhotographs(job) {
    this.go();
    const figures = await Promise.all(
      job.photographs.map(async (entry, index) => {
        const blob = await photograph(entry.id);
        const src = blob && URL.createObjectURL(blob);
        if (src) this.#addresses.push(src);
        const image = src ? make("img", { src, alt: entry.caption || `Photograph ${index + 1}` }) : "Not on this device.";
        const box = make("input", { id: `job-photographs-${entry.id}`, type: "text", maxLength: 200, value: entry.caption ?? "" });
        box.dataset.at = `photographs.${entry.id}.caption`;
        const label = make("label", { htmlFor: box.id }, `Caption ${index + 1}`);
        const out = button(`Take out photograph ${index + 1}`);
        out.dataset.remove = `photographs ${entry.id}`;
        return make("figure", {}, image, make("div", { className: "bench-field" }, label, box), out);
      }),
    );
    this.#find("photographs").replaceChildren(...figures);
  }

  go() {
    for (const address of this.#addresses.splice(0)) URL.revokeObjectURL(address);
  }

  /** @param {any} control */
  async #typed(control) {
    const { dataset, value } = control;
    this.#typedIn = control;
    this.#typings += 1;
    const called = control.labels?.[0]?.textContent ?? control.getAttribute("aria-label");
    if (dataset.at) await write(dataset.at, value, this, called);
    else if (dataset.reading) await keepReadings({ [dataset.reading]: { text: value, called } }, this);
    else return;
    this.#sayKept();
  }

  /** A fold says on its outside what was typed inside. @param {HTMLElement} fold */
  async #closed(fold) {
    if (this.#typedIn && fold.contains(this.#typedIn)) await this.#show();
  }

  /** @param {any} control */
  async #chosen(control) {
    if (control.matches(".bench-job-chosen")) await takeUpJob(control.value);
    if (control.matches(".bench-job-card")) await this.#chooseCard(control.value);
    if (control.matches(".bench-job-camera")) await this.#photographed(control);
    else if (control.type === "file") await this.#receive(control);
  }

  /** @param {string} name */
  async #chooseCard(name) {
    const job = await theJob();
    if (job.card?.data && job.card.name === name) return;
    await chooseCard({ name });
    this.#say(`Every page now takes its numbers from this card.${job.card?.data ? " The job’s own is laid aside: the engine card’s page has it." : ""}`);
  }

  /** @param {HTMLElement | null} button */
  async #clicked(button) {
    if (!button) return;
    const { do: deed, paper, remove: what } = button.dataset;
    const list = /** @type {Listed | undefined} */ (button.dataset.add);
    try {
      if (list) {
        await add(list, {}, this);
        await this.#show();
        const id = (await theJob())[list].at(-1)?.id;
        this.querySelector(`[data-at^="${list}.${id}."]`)?.focus();
      } else if (what) {
        const kind = /** @type {Listed | "readings"} */ (what.slice(0, what.indexOf(" ")));
        const putBack = await remove(kind, what.slice(what.indexOf(" ") + 1), this);
        await this.#show();
        this.#sayTakenOut(putBack);
      } else if (paper) await this.#print(paper);
      else if (deed) await /** @type {any} */ (this)[`_${deed}`]();
    } catch (error) {
      console.warn(error);
      this.#say(`That did not work: ${error.message}`);
    }
  }

  async _begin() {
    const kept = await keeps();
    if (!kept && !confirm("This browser holds one job at a time. If you begin another, this one is deleted. This cannot be undone; export the job first.")) return;
    await beginJob();
    await askToPersist();
    this.#say(kept ? "A new job is in hand. The others are kept." : "A new job is in hand.");
  }

  async _discard() {
    const name = nameOf(await theJob());
    const kept = await keeps();
    if (!kept && !confirm(`Throw away ${name} with all its readings and photographs? This cannot be undone.`)) return;
    try {
      await throwAway();
    } catch (error) {
      if (error.name !== "QuotaExceededError") throw error;
      const end = button("Throw it away for good", async () => (await throwAway(true), this.#say("The job is deleted.")));
      return this.#say("The storage of this browser is full: the job cannot be kept aside for a day. It is still in hand. ", end);
    }
    this.#say(kept ? "The job is thrown away. For a day it can be taken back here." : "The job is thrown away.");
  }

  /** One of the job's sheets as a document, or nothing and what is lacking for it. @param {string} paper */
  async #paper(paper) {
    const job = await theJob();
    return ask({ want: "paper", paper, job, card: job.card ?? release.card });
  }

  async _handoverFile() {
    download(`handover-${fileOf(await theJob())}.html`, "text/html", (await this.#paper("handover")).html);
  }

  /** Only the paper is printed: the page stands back while it is. @param {string} name */
  async #print(name) {
    const { html, lacking } = await this.#paper(name);
    if (lacking) return this.#say(lacking);
    const frame = document.createElement("template"); // its own page's styles stay behind
    frame.innerHTML = html.slice(html.indexOf("<article"), html.indexOf("</article>") + "</article>".length);
    const paper = find(frame.content, "article");
    inReadersWay(paper);
    document.body.append(paper);
    document.documentElement.classList.add("bench-printing");
    const back = () => (document.documentElement.classList.remove("bench-printing"), paper.remove());
    addEventListener("afterprint", back, { once: true });
    print();
  }

  async _exportJob() {
    const job = await theJob();
    download(`job-${fileOf(job)}.json`, "application/json", exported([job]));
    await noteExport();
    await askToPersist();
    this.#sayKept();
  }

  async _exportAll() {
    const { strToU8, zip } = await import("./fflate.js");
    const jobs = await allJobs();
    /** @type {import("fflate").AsyncZippable} */
    const files = { "jobs.json": strToU8(exported(jobs)) };
    for (const job of jobs) {
      const { text } = await ask({ want: "csv", job });
      files[`readings-${job.id}.csv`] = strToU8(text);
      for (const { id } of job.photographs) {
        const blob = await photograph(id);
        if (blob) files[`photographs/${id}.jpg`] = [new Uint8Array(await blob.arrayBuffer()), { level: 0 }];
      }
    }
    const bytes = await new Promise((done, failed) => zip(files, { consume: false }, (error, all) => (error ? failed(error) : done(all))));
    download("jobs.zip", "application/zip", bytes);
    await noteExport();
    await askToPersist();
    this.#sayKept();
  }

  async _byLight() {
    await (await import("./job-by-light.js")).show(exported([await theJob()]));
  }

  async _fromLight() {
    const file = await (await import("./job-by-light.js")).look();
    if (file) await this.#look(file);
  }

  async _csv() {
    const job = await theJob();
    download(`readings-${fileOf(job)}.csv`, "text/csv", (await ask({ want: "csv", job })).text);
  }

  /** @param {HTMLInputElement} control */
  async #photographed(control) {
    const file = control.files?.[0];
    control.value = "";
    if (!file) return;
    try {
      await keepPicture(file, "");
      this.#say("The photograph is kept.");
    } catch (error) {
      this.#say(whyNoPicture(error));
    }
  }

  /** Look at a file from outside; nothing of it is stored before the reader has seen what it would do. @param {HTMLInputElement} control */
  async #receive(control) {
    const file = control.files?.[0];
    control.value = "";
    if (file) await this.#look(file);
  }

  /** Show what a file from outside would change. @param {File} file */
  async #look(file) {
    const group = this.#find("incoming");
    group.hidden = false;
    try {
      await this.#preview(file.name, await opened(file));
    } catch (error) {
      group.replaceChildren(`${file.name} is not taken in: ${error.message}`);
    }
    group.focus();
  }

  /** Show what taking these jobs in does, entry by entry where one of the reader's goes. @param {string} name @param {{ jobs: Job[], photographs: Map<string, Blob>, lines: string[] }} file */
  async #preview(name, { jobs, photographs, lines: before }) {
    const group = this.#find("incoming");
    const seen = new Map();
    const lines = [...before];
    for (const theirs of jobs) {
      const mine = await keptJob(theirs.id);
      seen.set(theirs.id, asItStands(mine));
      const { gone, goes, kept, newer, new: fresh } = await ask({
        want: "difference", mine: mine ? plain(mine) : null, theirs: plain(theirs), whole: plain(mine ? merged(mine, theirs) : theirs),
      });
      lines.push(
        mine
          ? `${nameOf(theirs)}: ${fresh} new entries, ${newer} newer than yours, ${gone} taken out, ${kept} left as they are.`
          : `${nameOf(theirs)}: a new job with ${fresh} entries.`,
        ...goes.map((/** @type {string} */ words) => `${nameOf(theirs)}: ${words}.`),
      );
    }
    if (!(await keeps())) lines.push("This browser holds one job at a time, and no photographs: the first of these replaces the one in hand.");
    const yes = async () => {
      try {
        if (await takeIn(jobs, photographs, seen)) {
          group.hidden = true;
          this.#say("The file is taken in.");
        } else {
          await this.#preview(name, { jobs, photographs, lines: before });
          this.#say("Something was typed since you looked: this is what the file does now.");
          group.focus();
        }
      } catch (error) {
        const full = error.name === "QuotaExceededError";
        this.#say(full ? "The storage of this browser is full: nothing was taken from the file. What was saved before is safe." : `That did not work: ${error.message}`);
      }
    };
    const no = () => (group.hidden = true);
    const list = make("ul", {}, ...lines.map((words) => make("li", {}, words)));
    group.replaceChildren(`${name} holds:`, list, make("p", { className: "bench-buttons" }, button("Take it in", yes), button("Leave it", no)));
  }
}

/**
 * Read an exported file, and refuse all that is not one.
 *
 * @returns {Promise<{jobs: Job[], photographs: Map<string, Blob>, lines: string[]}>} `lines`: what was left out, and what was assumed
 * @param {File} file
 */
async function opened(file) {
  if (file.size > LARGEST) throw new Error("it is larger than 200 MB.");
  const bytes = new Uint8Array(await file.arrayBuffer());
  const photographs = new Map();
  let text = bytes;
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) {
    const { unzipSync } = await import("./fflate.js");
    let whole = 0;
    let files;
    try {
      files = unzipSync(bytes, {
        filter: ({ name, originalSize }) => {
          whole += originalSize;
          if (whole > LARGEST) throw new Error("too much");
          return name === "jobs.json" || /^photographs\/[0-9a-f]{8,32}\.jpg$/.test(name);
        },
      });
    } catch {
      throw new Error("its archive is damaged, or unpacks to more than 200 MB.");
    }
    text = files["jobs.json"];
    if (!text) throw new Error("the archive holds no jobs.json.");
    for (const [name, picture] of Object.entries(files))
      if (name.startsWith("photographs/") && picture[0] === 0xff && picture[1] === 0xd8)
        photographs.set(name.slice("photographs/".length, -".jpg".length), new Blob([picture], { type: "image/jpeg" }));
  }
  if (text.length > LARGEST_JOB) throw new Error("its jobs are larger than 20 MB.");
  let data;
  try {
    data = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(text));
  } catch {
    throw new Error("it is not JSON text.");
  }
  if (data?.format > Math.max(...FORMATS))
    throw new Error("a newer edition of this book wrote it. Open it with that edition.");
  if (!Array.isArray(data?.jobs) || !FORMATS.includes(data.format)) throw new Error("it is not a job file that this book exported.");
  const { soundJobs } = await import("./sound-jobs.js");
  const { jobs: sound, left } = soundJobs(data.jobs);
  if (!sound.length) throw new Error("no job in it is as a job file has it.");
  const lines = left.slice(0, MOST_SAID).map((place) => `Left out, because it does not fit a job file: ${place}.`);
  if (left.length > MOST_SAID) lines.push(`Left out for the same reason: ${left.length - MOST_SAID} more entries.`);
  const jobs = [];
  for (const one of sound) {
    const { job, unsaid, left: strange, results } = await ask({ want: "incoming", job: one });
    jobs.push(withUnits(job));
    for (const words of strange) lines.push(`${nameOf(one)}: left out, ${words}.`);
    if (results) lines.push(`${nameOf(one)}: ${results === 1 ? "1 result" : `${results} results`} that calculators of a former edition kept: worked out anew from the readings.`);
    if (unsaid.length) lines.push(`${nameOf(one)}: the file names no unit for ${unsaid.slice(0, MOST_SAID).join(", ")}${unsaid.length > MOST_SAID ? ` and ${unsaid.length - MOST_SAID} more` : ""}; each number is taken in the unit of its entry.`);
  }
  return { jobs, photographs, lines };
}

/** A job as the schema has it. @param {Kept} job */
const plain = (job) => JSON.parse(JSON.stringify(job));

/** @param {HTMLElement} select @param {string[][]} entries @param {string} chosen */
function options(select, entries, chosen) {
  select.replaceChildren(...entries.map(([value, words]) => new Option(words, value, value === chosen, value === chosen)));
}

customElements.define("bench-job", BenchJob);
