/**
 * The theme's instant navigation knows the pages by the sitemap, and takes their addresses from it as
 * they stand there. Here they are made to fit where the site is really served: any host, port or folder.
 */
{
  const root = new URL("../../", document.currentScript.src).href;
  const parse = DOMParser.prototype.parseFromString;
  DOMParser.prototype.parseFromString = function (text, type) {
    const parsed = parse.call(this, text, type);
    const places = [...parsed.querySelectorAll("urlset > url > loc")];
    const shortest = Math.min(...places.map((place) => place.textContent.length));
    for (const place of places) place.textContent = root + place.textContent.slice(shortest);
    return parsed;
  };
}
