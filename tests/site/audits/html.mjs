/**
 * Hold the built pages against the HTML standard, all or those named; print what is wrong as JSON.
 *
 * node html.mjs SITE [PAGE…], where this folder's packages are installed.
 */
import { readdirSync } from "node:fs";
import { join, relative } from "node:path";
import { HtmlValidate, StaticConfigLoader } from "html-validate";
import { known, rules } from "./html-rules.mjs";

/** The rules are the same for every page: they are put together once. */
class Loader extends StaticConfigLoader {
  getConfigFor(page) {
    return (this.config ??= super.getConfigFor(page));
  }
}

const [site, ...named] = process.argv.slice(2);
const validator = new HtmlValidate(new Loader({ root: true, extends: ["html-validate:recommended"], rules }));
const pages = named.length ? named.map((page) => relative(site, page)) : readdirSync(site, { recursive: true }).filter((name) => name.endsWith(".html"));
const unused = new Set(known);
const faults = [];
for (const page of pages) {
  const { results } = await validator.validateFile(join(site, page));
  for (const { messages } of results)
    for (const { ruleId, message, line, selector } of messages) {
      const of = known.find((one) => one.rule === ruleId && one.where.test(`${message} ${selector}`));
      if (of) unused.delete(of);
      else faults.push({ page, line, ruleId, message, selector });
    }
}
console.log(JSON.stringify({ pages: pages.length, faults, unused: [...unused].map(({ rule, why }) => `${rule}: ${why}`) }));
