/** What the pages are held against, and the theme's own faults: each with its reason, so that it can go when that goes. */

export const rules = {
  "no-trailing-whitespace": "off", // how the source looks, not what it means
  "doctype-style": "off", // the standard reads it in either case
  "valid-id": ["error", { relaxed: true }], // the standard forbids only blanks in an id; the theme's begin with __
  // where the stylesheet turns rows into blocks, browsers forget that it is a table: the roles say it again
  "no-redundant-role": "off",
};

/** Faults in the theme's templates: known by rule and by what the message or the place of it says. */
export const known = [
  { rule: "valid-autocomplete", where: /#__(drawer|search)/, why: "the theme's switches of the drawer and the search are check boxes with autocomplete=off" },
  { rule: "wcag/h32", where: /header > nav/, why: "the theme's search answers as one types, its palette by a change: neither form is ever sent" },
  { rule: "prefer-native-element", where: /<progress>/, why: "the theme draws the progress of loading a page itself" },
  { rule: "unique-landmark", where: /main > div > div:nth-child\([12]\)/, why: "the theme wraps each level of its navigation and of the contents in a nav of its own" },
];
