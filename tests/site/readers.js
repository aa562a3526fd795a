/** What the tests of readers look at in a page. Runs in the page; hung on window as `readers`. */
const parse = (text) => {
  const [red, green, blue, alpha = 1] = text.match(/[\d.]+/g).map(Number);
  return { red, green, blue, alpha };
};

const over = (top, under) => {
  const mixed = (part) => top[part] * top.alpha + under[part] * (1 - top.alpha);
  return { red: mixed("red"), green: mixed("green"), blue: mixed("blue"), alpha: 1 };
};

/** Relative luminance and contrast: WCAG 2.2, definitions. */
const luminance = ({ red, green, blue }) => {
  const [r, g, b] = [red, green, blue].map((part) => part / 255).map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (one, other) => {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
};

window.readers = {
  /** Texts in the article, drawings too, with less contrast than `least` to what lies behind them. */
  faint(least) {
    const grounds = new Map([[null, { red: 255, green: 255, blue: 255, alpha: 1 }]]);
    const ground = (one) => {
      if (!grounds.has(one)) grounds.set(one, over(parse(getComputedStyle(one).backgroundColor), ground(one.parentElement)));
      return grounds.get(one);
    };
    const found = new Set();
    const texts = document.createTreeWalker(document.querySelector("article"), NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      const one = texts.currentNode.parentElement;
      if (!texts.currentNode.textContent.trim() || one.closest("script, style, .headerlink, option") || !one.checkVisibility({ visibilityProperty: true })) continue;
      const style = getComputedStyle(one);
      const under = one.matches(".done > .number") ? one.parentElement.querySelector(".stud, .spacer") : undefined; // the nut that it stands on
      const below = under ? over(parse(getComputedStyle(under).fill), ground(one)) : ground(one);
      const ratio = contrast(over(parse(one.closest("svg") ? style.fill : style.color), below), below);
      if (ratio < least) found.add(`${one.parentElement.className}/${one.tagName}.${one.className.baseVal ?? one.className}: ${ratio.toFixed(2)}, ${texts.currentNode.textContent.trim().slice(0, 40)}`);
    }
    return [...found];
  },

  /** Faults by the rules of axe, but for those left out: rule, place and reason. */
  async faults(within, options, leftOut = []) {
    const rules = Object.fromEntries(leftOut.map((rule) => [rule, { enabled: false }]));
    const { violations } = await axe.run(within, { preload: false, resultTypes: ["violations"], runOnly: options, rules });
    return violations.flatMap(({ id, nodes }) => nodes.map(({ target, failureSummary }) => `${id}: ${target.join(" ")}: ${failureSummary}`.slice(0, 300)));
  },

  /** The stop that the keyboard is at: what it is, and whether a reader can see so. Null behind the last. */
  stop() {
    const one = document.activeElement;
    if (!one || one === document.body) return null;
    const shown = one.closest("label") ?? one;
    const marks = [one, shown, ...(one.labels ?? []), ...(one.matches(".md-option") ? [one.nextElementSibling] : [])];
    const marked = (part) => {
      const { outlineStyle, outlineWidth } = getComputedStyle(part);
      const { width, height, right, bottom, left, top } = part.getBoundingClientRect();
      const inside = right > 0 && bottom > 0 && left < innerWidth && top < innerHeight;
      return outlineStyle !== "none" && parseFloat(outlineWidth) >= 1 && width > 1 && height > 1 && inside && part.checkVisibility({ visibilityProperty: true });
    };
    return { name: one.name || "", words: one.textContent.trim().slice(0, 40), kind: `${one.tagName}.${one.className}#${one.id}`, seen: marks.some(marked) };
  },

  /** Our own controls that are smaller than a thumb wants. */
  small(least) {
    const ours = "bench-question, bench-job, bench-card, bench-offline, .bench-doors, .bench-foot, .bench-found, bench-home, .bench-resume, .bench-done, .bench-follow, .bench-shared, .bench-edition";
    const controls = "a[href], button, input:not([type=hidden]), select, textarea, summary, .bench-done, .bench-step";
    return [...document.querySelectorAll(controls)]
      .filter((one) => one.matches(".bench-done") || one.closest(ours))
      .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.matches(":is(.bench-done, .bench-step) input"))
      .filter((one) => !one.matches("p a, li a, td a") || one.closest(".bench-summary, .bench-doors, .bench-found, .bench-buttons")) // links within a sentence
      .map((one) => [one, (one.closest("label:has([type=file])") ?? one).getBoundingClientRect()])
      .filter(([, { width, height }]) => width < least - 0.5 || height < least - 0.5)
      .map(([one, { width, height }]) => `${one.tagName}.${one.className} ${one.textContent.trim().slice(0, 30)}: ${Math.round(width)} × ${Math.round(height)}`);
  },
};
