/**
 * The job's own storage code in a world made up for the test: devices with their clocks and their room, tabs that
 * are opened, closed and cut in the middle of a write. One order a line comes in, one answer a line goes out.
 *
 * Each tab is a context of its own with the modules as they ship. The storage below them keeps to IndexedDB's rules
 * as far as they matter here: a transaction is whole or not at all, writing ones come one after the other, and each
 * ends when nothing more is asked of it.
 */
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import vm from "node:vm";

const ASSETS = new URL("../../docs/assets/", import.meta.url);
const JSON_SCHEMA = new URL("../../node_modules/@cfworker/json-schema/dist/esm/", import.meta.url);
const SCHEMA = JSON.parse(readFileSync(new URL("../../calculators/job/job.schema.json", import.meta.url), "utf8"));
const START = Date.UTC(2026, 10, 30, 8);
const soon = () => new Promise((done) => setImmediate(done));
const texts = new Map();
const read = (address) => texts.get(address.href) ?? (texts.set(address.href, readFileSync(address, "utf8")), texts.get(address.href));
let [devices, tabs, world, random] = [new Map(), new Map(), 0, 0];

/** What a page may keep beside the database; ``blocked`` where the browser forbids it. */
class Storage {
  getItem(key) { return Object.hasOwn(this, key) ? this[key] : null; }
  setItem(key, text) { this[key] = String(text); }
  removeItem(key) { delete this[key]; }
}

class Device {
  stores = { jobs: new Map(), photographs: new Map(), desk: new Map() };
  local = new Storage();
  clock = 0; // ms that it is ahead
  full = false;
  blocked = false; // the browser forbids to keep anything
  tabs = new Set();
  last = Promise.resolve(); // the writing transaction before
}

/** One transaction; reading ones see what is stored, writing ones what they wrote. */
class Transaction {
  #device; #tab; #mode; #waiting = 0; #over = false; #ready; #end; #copies;
  constructor(device, tab, mode) {
    [this.#device, this.#tab, this.#mode] = [device, tab, mode];
    this.done = new Promise((resolve, reject) => (this.#end = { resolve, reject }));
    if (mode === "readwrite") {
      let release;
      const before = device.last;
      device.last = new Promise((done) => (release = done));
      this.#ready = before.then(() => (this.#copies = Object.fromEntries(Object.entries(device.stores).map(([name, store]) => [name, new Map(store)]))));
      this.#end.release = release;
    } else this.#ready = Promise.resolve();
    tab.open.add(this);
    this.#ready.then(soon).then(() => this.#look());
  }
  #look() {
    if (this.#waiting || this.#over) return;
    this.#over = true;
    this.#tab.open.delete(this);
    if (this.#copies) Object.assign(this.#device.stores, this.#copies);
    this.#end.release?.();
    if (!this.#tab.dead) this.#end.resolve();
  }
  abort(error = new DOMException("aborted", "AbortError")) {
    if (this.#over) return;
    this.#over = true;
    this.#tab.open.delete(this);
    this.#ready.then(() => this.#end.release?.());
    if (!this.#tab.dead) this.#end.reject(error);
  }
  async #ask(deed) {
    this.#waiting += 1;
    await this.#ready;
    await soon();
    if (this.#tab.dead) return new Promise(() => {});
    if (this.#over) throw new DOMException("over", "TransactionInactiveError");
    try {
      return structuredClone(deed(this.#copies ?? this.#device.stores));
    } catch (error) {
      this.abort(error);
      throw error;
    } finally {
      this.#waiting -= 1;
      soon().then(() => this.#look());
    }
  }
  objectStore(name) {
    return {
      get: (key) => this.#ask((stores) => stores[name].get(key)),
      getAll: () => this.#ask((stores) => [...stores[name].values()]),
      getAllKeys: () => this.#ask((stores) => [...stores[name].keys()]),
      delete: (key) => this.#ask((stores) => void stores[name].delete(key)),
      put: (value, key) =>
        this.#ask((stores) => {
          if (this.#mode !== "readwrite") throw new DOMException("reads only", "ReadOnlyError");
          if (this.#device.full) throw new DOMException("no room", "QuotaExceededError");
          stores[name].set(key ?? value.id, structuredClone(value));
        }),
    };
  }
}

function database(device, tab, terminated) {
  let closed = false;
  tab.databases.add(() => {
    closed = true;
    terminated?.();
  });
  const transaction = (_, mode = "readonly") => {
    if (closed) throw new DOMException("closed", "InvalidStateError");
    return new Transaction(device, tab, mode);
  };
  const alone = (deed, mode) => async (store, ...given) => {
    const whole = transaction(store, mode);
    whole.done.catch(() => {});
    const answer = await whole.objectStore(store)[deed](...given);
    await whole.done;
    return answer;
  };
  return {
    transaction, get: alone("get"), getAll: alone("getAll"), getAllKeys: alone("getAllKeys"),
    put: alone("put", "readwrite"), delete: alone("delete", "readwrite"), close() {},
  };
}

class Tab {
  dead = false;
  open = new Set();
  databases = new Set();
  heard = [];
  undo = undefined;
  constructor(device) {
    this.device = device;
    device.tabs.add(this);
    const tab = this;
    this.context = vm.createContext({
      console, structuredClone, setTimeout, DOMException, Blob, URL,
      sessionStorage: new Storage(),
      dispatchEvent() {},
      CustomEvent: class {},
      Event: class {},
      crypto: { getRandomValues: (bytes) => bytes.map((_, index, all) => ((all[index] = (random = (random * 16807 + 11) % 2147483647) & 255), all[index])) },
      clock: () => START + world + device.clock,
      BroadcastChannel: class {
        addEventListener(_, listener) { tab.heard.push(listener); }
        postMessage(data) {
          for (const other of device.tabs)
            if (other !== tab) soon().then(() => other.dead || other.heard.forEach((listener) => listener({ data: structuredClone(data) })));
        }
      },
    });
    vm.runInContext(
      "globalThis.Date = class extends Date { constructor(...given) { given.length ? super(...given) : super(clock()); } static now() { return clock(); } }",
      this.context,
    );
    Object.defineProperty(this.context, "localStorage", {
      get() {
        if (device.blocked) throw new DOMException("forbidden", "SecurityError");
        return device.local;
      },
    });
    this.modules = new Map();
  }
  async begin() {
    this.job = (await this.module("./job.js")).namespace;
    await this.job.theJob();
  }
  async module(name, from = ASSETS) {
    const module = this.find(name, from);
    if (module.status === "unlinked") await module.link((other, { identifier }) => this.find(other, new URL(identifier)));
    if (module.status === "linked") await module.evaluate();
    return module;
  }
  find(name, from) {
    const inLibrary = name.startsWith("./json-schema/") || from.href.startsWith(JSON_SCHEMA.href);
    const address = inLibrary ? new URL(name.replace("json-schema/", ""), JSON_SCHEMA) : new URL(name, from);
    if (!this.modules.has(address.href)) this.modules.set(address.href, this.make(address));
    return this.modules.get(address.href);
  }
  make(address) {
    const options = { context: this.context, identifier: address.href };
    const made = { "idb.js": ["openDB", async (name, version, { terminated }) => this.opened(terminated)], "job-schema.js": ["default", SCHEMA] };
    const [name, value] = made[address.href.slice(ASSETS.href.length)] ?? [];
    if (name) return new vm.SyntheticModule([name], function () { this.setExport(name, value); }, options);
    const importModuleDynamically = (other) => this.module(other, address);
    return new vm.SourceTextModule(read(address), { ...options, importModuleDynamically });
  }
  opened(terminated) {
    if (this.device.blocked) throw new DOMException("forbidden", "SecurityError");
    return database(this.device, this, terminated);
  }
  cut() {
    this.dead = true;
    for (const one of this.open) one.abort();
    this.device.tabs.delete(this);
  }
}

const DEEDS = {
  type: (tab, { path, text, unit }) => tab.job.keepReadings({ [path]: { text, unit } }),
  write: (tab, { at, text }) => tab.job.write(at, text),
  add: (tab, { list, entry }) => tab.job.add(list, entry),
  async takeOut(tab, { list, id }) { tab.undo = await tab.job.remove(list, id); },
  undo: (tab) => tab.undo?.(),
  back: (tab, { id, back }) => tab.job.tickBack(id, back),
  card: (tab, { card }) => tab.job.chooseCard(card),
  tick: (tab, { walk, step, words, done }) => tab.job.tick(walk, step, new Map([[step, words]]), done),
};

/** Until no tab has anything under way. */
async function settle() {
  for (let quiet = 0; quiet < 6; ) {
    await soon();
    quiet = [...devices.values()].some((device) => [...device.tabs].some((tab) => tab.open.size)) ? 0 : quiet + 1;
  }
}

const ORDERS = {
  world({ names }) {
    [devices, tabs, world, random] = [new Map(names.map((name) => [name, new Device()])), new Map(), 0, 7];
  },
  async open({ device, tab }) {
    const made = new Tab(devices.get(device));
    tabs.set(tab, made);
    await made.begin();
  },
  async close({ tab }) { tabs.get(tab).cut(); tabs.delete(tab); },
  async deed({ tab, deed, ...given }) { await DEEDS[deed](tabs.get(tab), given); },
  /** Before any of them has heard of the others. */
  async atOnce({ deeds }) { await Promise.all(deeds.map(({ tab, deed, ...given }) => DEEDS[deed](tabs.get(tab), given))); },
  async cut({ tab, after, deed, ...given }) {
    const made = tabs.get(tab);
    Promise.resolve(DEEDS[deed](made, given)).catch(() => {});
    for (let step = 0; step < after; step++) await soon();
    made.cut();
    tabs.delete(tab);
  },
  /** In the middle of a write, all is deleted. */
  async wipeIn({ tab, after, deed, ...given }) {
    const made = tabs.get(tab);
    const done = DEEDS[deed](made, given);
    for (let step = 0; step < after; step++) await soon();
    ORDERS.wipe({ device: [...devices].find(([, one]) => one === made.device)[0] });
    await done;
  },
  pass({ ms }) { world += ms; },
  clock({ device, ms }) { devices.get(device).clock = ms; },
  room({ device, full }) { devices.get(device).full = full; },
  block({ device, blocked }) { devices.get(device).blocked = blocked; },
  /** All that the browser holds of the book is deleted, behind the tabs that are open. */
  wipe({ device }) {
    const made = devices.get(device);
    for (const tab of made.tabs) {
      for (const one of tab.open) one.abort();
      const ends = [...tab.databases];
      tab.databases.clear(); // each is opened anew
      for (const end of ends) end();
    }
    for (const store of Object.values(made.stores)) store.clear();
    for (const key of Object.keys(made.local)) made.local.removeItem(key);
  },
  left({ device, key, text }) { devices.get(device).local.setItem(key, text); },
  stored({ device }) { return [...devices.get(device).stores.jobs.values()]; },
  pictures({ device, put }) {
    const { photographs } = devices.get(device).stores;
    for (const id of put ?? []) photographs.set(id, "bytes");
    return [...photographs.keys()];
  },
  storedAs({ device, job }) { devices.get(device).stores.jobs.set(job.id, job); devices.get(device).stores.desk.set("current", job.id); },
  local({ device }) { return { ...devices.get(device).local }; },
  async look({ tab }) {
    const { job } = tabs.get(tab);
    return { job: await job.theJob(), why: job.whyNotKept() };
  },
  async merged({ one, other }) {
    const tab = tabs.values().next().value;
    return (await tab.module("./merge-jobs.js")).namespace.merged(one, other);
  },
  async withUnits({ job }) {
    const tab = tabs.values().next().value;
    return (await tab.module("./merge-jobs.js")).namespace.withUnits(job);
  },
  async sound({ jobs }) {
    const tab = tabs.values().next().value;
    return (await tab.module("./sound-jobs.js")).namespace.soundJobs(jobs);
  },
  async throwAway({ tab, forGood }) {
    try {
      await tabs.get(tab).job.throwAway(forGood);
      return "";
    } catch (error) {
      return error.name;
    }
  },
  async thrown({ tab }) { return (await tabs.get(tab).job.thrownJobs()).map(({ job }) => job.id); },
  async takeBack({ tab, id }) { await tabs.get(tab).job.takeBack(id); },
  async forgetThrown({ tab, id }) { await tabs.get(tab).job.forgetThrown(id); },
  async beginJob({ tab }) { await tabs.get(tab).job.beginJob(); },
  /** Look at a copy, let something be typed meanwhile, and take it in. */
  async import({ tab, theirs, between }) {
    const { job } = tabs.get(tab);
    const { merged } = (await tabs.get(tab).module("./merge-jobs.js")).namespace;
    const mine = await job.keptJob(theirs.id);
    const seen = new Map([[theirs.id, job.asItStands(mine)]]);
    const whole = mine ? merged(mine, theirs) : theirs;
    if (between) await DEEDS[between.deed](tabs.get(between.tab), between);
    await settle();
    let taken;
    try {
      taken = await job.takeIn([theirs], new Map(), seen);
    } catch (error) {
      taken = error.name;
    }
    await settle();
    return { mine: mine ?? null, whole, taken, after: await job.theJob() };
  },
};

for await (const line of createInterface({ input: process.stdin })) {
  const { order, ...given } = JSON.parse(line);
  let answer;
  try {
    answer = { answer: (await ORDERS[order](given)) ?? null };
    await settle();
  } catch (error) {
    answer = { failed: String(error?.stack ?? error) };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}
