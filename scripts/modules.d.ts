/** What the modules of docs/assets share by type, and what the build puts beside them. */

/** When an edit was made, and its place among the edits where the clock cannot tell it. */
interface Stamp {
  when: string;
  order?: string;
}

/** A number with the unit that stood beside it when it was typed. */
interface Reading extends Stamp {
  text: string;
  unit?: string;
  who?: string;
  instrument?: string;
  corrected?: string;
}

interface Tick extends Stamp {
  words: string;
  of?: number;
}

interface Clock extends Stamp {
  until: number;
}

/** An entry of one of the job's lists; what else it holds, the schema says. */
interface Entry extends Stamp {
  id: string;
  [key: string]: any;
}

/** The facts of an engine, as calculators/bench/card_facts.py has them. */
interface CardFacts {
  name: string;
  layout?: { cylinders?: { value?: number }; banks?: { value?: number[][] } };
  [fact: string]: any;
}

/** The engine card of a job: one of the site's by its name, or the reader's own with its facts. */
interface Card extends Partial<Stamp> {
  name: string;
  data?: CardFacts;
}

type Listed = "decisions" | "parts" | "tags" | "notes" | "checks" | "photographs";

/** As calculators/job/job.schema.json has it. */
interface Job extends Record<Listed, Entry[]> {
  id: string;
  made: string;
  changed: string;
  about: Record<string, string>;
  about_orders?: Record<string, string>;
  about_when?: string;
  readings: Record<string, Reading>;
  ticks: Record<string, Record<string, Tick>>;
  clocks: Record<string, Clock>;
  gone: Record<string, string>;
  card?: Card;
  cards_aside?: Card[];
}

/** A job as an older edition or a file may have it. */
type Kept = Partial<Job> & Pick<Job, "id" | "made" | "changed">;

/** A box of a form. */
type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

/** What a question on a page asks the desk for. */
interface Wanted {
  name: string;
  place?: string;
  folded: boolean;
  whole: boolean;
  opened: string[];
  rows: Record<string, number>;
}

/** What Python says of one question. */
interface Answer {
  state: string;
  headline: string;
  whose: string;
  line: string;
  deed: string;
  answer?: string;
  folds: string;
  html?: string;
  boxes: Record<string, { error: string; read: string; whose: string; hint: string; missing: boolean; unit?: string }>;
  refines: Record<string, string>;
  rows: Record<string, { count: number; more: string }>;
  offers?: Record<string, { path: string; text: string; typed: string; stands: string; source: string; inherited: boolean }>;
}

/** What Python is asked, as calculators/browser.py takes it, and what it says to that. */
interface Asked {
  want: string;
  card?: Card | string | null;
  [key: string]: unknown;
}
type Said = any;

interface PythonHistory {
  state: "not started" | "starting" | "ready" | "stopped";
  way: "" | "snapshot" | "stock";
  milliseconds: number;
  bytes: number;
  memory: number;
  taken: number;
  rehearsed: number;
  setbacks: string[];
}

interface WindowEventMap {
  "bench-job": CustomEvent<{ job: Job; paths: string[] | null; here: Element | null }>;
  "bench-python": CustomEvent<PythonHistory>;
}

/** What is looked for by a selector in our pages is HTML, but for the drawings; a tag's name says more. */
interface ParentNode {
  querySelector<Tag extends keyof HTMLElementTagNameMap>(selectors: Tag): HTMLElementTagNameMap[Tag] | null;
  querySelector<Kind extends Element = HTMLElement>(selectors: string): Kind | null;
  querySelectorAll<Tag extends keyof HTMLElementTagNameMap>(selectors: Tag): NodeListOf<HTMLElementTagNameMap[Tag]>;
  querySelectorAll<Kind extends Element = HTMLElement>(selectors: string): NodeListOf<Kind>;
}
interface Element {
  closest<Tag extends keyof HTMLElementTagNameMap>(selectors: Tag): HTMLElementTagNameMap[Tag] | null;
  closest<Kind extends Element = HTMLElement>(selectors: string): Kind | null;
}

/** The Network Information API: in some browsers only. */
interface Navigator {
  connection?: { saveData?: boolean; effectiveType?: string; type?: string };
}

/** The File System Access API: in some browsers only. */
interface FileSystemDirectoryHandle {
  queryPermission(wanted: { mode: "readwrite" }): Promise<PermissionState>;
  requestPermission(wanted: { mode: "readwrite" }): Promise<PermissionState>;
}
declare var showDirectoryPicker: undefined | ((wanted: { id: string; mode: "readwrite" }) => Promise<FileSystemDirectoryHandle>);

/** The theme's: each page that it puts in place. */
declare var document$: { subscribe(shown: () => void): void };

declare module "*/idb.js" {
  export * from "idb";
}
declare module "*/fflate.js" {
  export * from "fflate";
}
declare module "*/qr/index.js" {
  export { default } from "qr";
}
declare module "*/qr/decode.js" {
  export { default } from "qr/decode.js";
}
declare module "*/json-schema/index.js" {
  export * from "@cfworker/json-schema";
}
declare module "*/pyodide.mjs" {
  export * from "pyodide";
}
declare module "*/cards.js" {
  const cards: Record<string, CardFacts>;
  export default cards;
}
declare module "*/job-schema.js" {
  const jobSchema: any;
  export default jobSchema;
}
declare module "*/release.js" {
  const release: { name: string; card: string; questionPages: string[]; python: any };
  export default release;
}
declare module "*/checks.js" {
  const checks: { ours: string }[];
  export default checks;
}
declare module "*/found.js" {
  const found: { says: string; asked: string[]; figures: [string, string, string][]; address: string; page: string }[];
  export default found;
}
