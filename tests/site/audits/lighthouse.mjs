/**
 * Measure pages as a phone would get them; print scores and times as JSON.
 *
 * node lighthouse.mjs CHROMIUM ADDRESS…, where this folder's packages are installed. Nothing is throttled: the times
 * are those of this machine. THROTTLING=simulate reckons what a slow phone on slow 4G would take; that multiplies
 * whatever else the machine was busy with by four, and is for looking, not for a test.
 */
import { launch } from "chrome-launcher";
import lighthouse from "lighthouse";

const [chromePath, ...addresses] = process.argv.slice(2);
const chrome = await launch({ chromePath, chromeFlags: ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-background-networking"], logLevel: "silent" });
const measured = {};
try {
  for (const address of addresses) {
    const { lhr } = await lighthouse(address, {
      port: chrome.port,
      logLevel: "silent",
      output: [],
      formFactor: "mobile",
      disableFullPageScreenshot: true,
      throttlingMethod: process.env.THROTTLING ?? "provided",
      onlyCategories: ["performance", "accessibility", "best-practices"],
    });
    const of = (audit) => lhr.audits[audit].numericValue;
    measured[address] = {
      ...Object.fromEntries(Object.values(lhr.categories).map(({ id, score }) => [id, Math.round(100 * score)])),
      largestPaint: Math.round(of("largest-contentful-paint")),
      shift: of("cumulative-layout-shift"),
      blocked: Math.round(of("total-blocking-time")),
      benchmark: lhr.environment.benchmarkIndex,
      failed: Object.values(lhr.categories).flatMap(({ auditRefs }) => auditRefs)
        .filter(({ id, weight }) => weight && lhr.audits[id].score !== null && lhr.audits[id].score < 0.9)
        .map(({ id }) => `${id} ${lhr.audits[id].score} ${lhr.audits[id].displayValue ?? ""}`),
    };
  }
} finally {
  await chrome.kill();
}
console.log(JSON.stringify(measured));
