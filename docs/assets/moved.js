/**
 * An address of a former edition, /calculators/<name>/: lead to the room whose questions took its place.
 *
 * What a link of that edition brought goes along by the job's names; the rest keeps its own, for the page there to say.
 */
const { room = "", calculator = "", shared = "{}" } = document.body.dataset;
const names = JSON.parse(shared);
const target = new URL(room, location.href);
const [, brought] = location.hash.match(/^#with:[^?]*\?(.*)$/s) ?? [];
const given = new URLSearchParams(brought ?? location.search);

if ([...given].length) {
  const entries = new URLSearchParams();
  for (const [name, text] of given) {
    if (name.endsWith(".unit")) continue;
    const [column, row] = name.split(/\.(?=\d+$)/);
    const unit = given.get(`${name}.unit`) ?? given.get(`${column}.unit`) ?? "";
    const path = Object.hasOwn(names, column) ? names[column] + (row ? `.${row}` : "") : `${calculator} ${name}`;
    entries.set(path, /[\p{L}°%"″′']/u.test(text) || !unit ? text : `${text} ${unit}`);
  }
  target.hash = `with?${entries}`;
} else target.hash = location.hash;
location.replace(target);
