"""What the browser tests measure of a page that is open: words against their ground, measurements in one line. No test.

Colours are those the browser computed, whatever stylesheet, variable or scheme they come from. WCAG 2.2, 1.4.3:
contrast of 4.5 to 1, of 3 to 1 for 24 px and more or 18.66 px in bold.
"""

from __future__ import annotations

from playwright.sync_api import Page

from printed.unbroken import MEASURE

_TEXTS = """
const clipped = element => {  // to a pixel: only for those who hear the page
  for (let one = element; one instanceof HTMLElement; one = one.parentElement)
    if (getComputedStyle(one).overflow !== "visible" && one.offsetWidth <= 1) return true;
  return false;
};
const texts = () => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
  while (walker.nextNode()) {
    const node = walker.currentNode, holder = node.parentElement;
    if (!node.data.trim() || holder.closest("script,style,title,desc,option,[hidden]")) continue;
    if (holder.checkVisibility({visibilityProperty: true, opacityProperty: true}) && !clipped(holder)) found.push(node);
  }
  return found;
};
const rects = (node, from, to) => {
  const range = document.createRange();
  range.setStart(node, from); range.setEnd(node, to);
  return [...range.getClientRects()].filter(one => one.width && one.height);
};
"""

_UNCLEAR = (
    "() => {"
    + _TEXTS
    + """
const read = text => {
  const parts = (text.match(/-?[\\d.]+(?:e-?\\d+)?/g) || []).map(Number), whole = text.startsWith("color(") ? 255 : 1;
  if (parts.length < 3 || /^(?!rgb|color\\(srgb)/.test(text)) return null;
  return {rgb: parts.slice(0, 3).map(one => one * whole), alpha: parts.length > 3 ? parts[3] : 1};
};
const over = (upper, lower) => upper.rgb.map((one, at) => one * upper.alpha + lower[at] * (1 - upper.alpha));
const luminance = rgb => {
  const linear = one => one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4;
  const [red, green, blue] = rgb.map(one => linear(one / 255));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
};
const contrast = (one, other) => {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
};
const known = new Map();
const painted = element => {
  if (!known.has(element)) known.set(element, paints(element));
  return known.get(element);
};
const paints = element => {  // what an element puts under a point, or "picture" where that is no one colour
  const style = getComputedStyle(element), opacity = Number(style.opacity);
  if (element instanceof SVGElement && !(element instanceof SVGSVGElement)) {
    if (element instanceof SVGTextContentElement) return null;
    if (element instanceof SVGImageElement) return "picture";
    const fill = style.fill === "none" ? style.stroke : style.fill;
    if (fill === "none") return null;
    const colour = read(fill);
    if (!colour) return "picture";
    const share = style.fill === "none" ? style.strokeOpacity : style.fillOpacity;
    return {rgb: colour.rgb, alpha: colour.alpha * Number(share) * opacity};
  }
  if (element instanceof HTMLImageElement || style.backgroundImage !== "none") return "picture";
  const colour = read(style.backgroundColor);
  return colour && {rgb: colour.rgb, alpha: colour.alpha * opacity};
};
const ground = (x, y) => {
  const layers = [], elements = document.elementsFromPoint(x, y);
  if (!elements.length) return null;  // off the page until somebody tabs to it
  for (const element of elements) {
    const layer = painted(element);
    if (layer === "picture") return null;
    if (layer && layer.alpha > 0) layers.push(layer);
    if (layer && layer.alpha >= 1) break;
  }
  const canvas = matchMedia("(prefers-color-scheme: dark)").matches &&
    getComputedStyle(document.documentElement).colorScheme.includes("dark") ? [18, 18, 18] : [255, 255, 255];
  return layers.reverse().reduce((lower, layer) => over(layer, lower), canvas);
};
const commonest = spot => {  // of many places, since lines may run behind a word
  const places = [0.1, 0.3, 0.5, 0.7, 0.9].flatMap(x => [0.1, 0.3, 0.5, 0.7, 0.9].map(y => [x, y]));
  const often = new Map();
  for (const [x, y] of places) {
    const under = JSON.stringify(ground(spot.x + x * spot.width, spot.y + y * spot.height));
    often.set(under, (often.get(under) || 0) + 1);
    if (often.get(under) > places.length / 2) break;  // the rest can change nothing
  }
  return JSON.parse([...often].reduce((best, one) => one[1] > best[1] ? one : best)[0]);
};
const covering = (spot, holder) => {  // what is painted over a word, at any of many places
  for (const x of [0.1, 0.3, 0.5, 0.7, 0.9]) {
    const elements = document.elementsFromPoint(spot.x + x * spot.width, spot.y + spot.height / 2);
    const over = elements.slice(0, Math.max(0, elements.indexOf(holder)));
    const lids = over.filter(one => one instanceof HTMLElement && !holder.contains(one));
    const lid = lids.find(one => (painted(one) || {}).alpha >= 1);
    if (lid) return lid;
  }
  return null;
};
const touched = new CSSStyleSheet();
touched.replaceSync("*{pointer-events:auto!important}");
document.adoptedStyleSheets = [...document.adoptedStyleSheets, touched];
const found = [];
let seen = 0;
for (const node of texts()) {
  const holder = node.parentElement, style = getComputedStyle(holder), drawn = holder instanceof SVGElement;
  const [spot] = rects(node, 0, node.length);
  if (!spot) continue;
  const lid = covering(spot, holder);
  if (lid) found.push(`“${node.data.trim().slice(0, 40)}” is covered by “${lid.textContent.trim().slice(0, 20)}”`);
  const ink = read(drawn ? style.fill : style.color);
  const halo = drawn && style.stroke !== "none" && style.paintOrder.startsWith("stroke") ? read(style.stroke) : null;
  const under = halo ? halo.rgb : commonest(spot);
  if (!ink || !under) continue;
  seen += 1;
  let shown = ink.alpha;
  for (let one = holder; one; one = one.parentElement) shown *= Number(getComputedStyle(one).opacity);
  const stands = contrast(over({rgb: ink.rgb, alpha: shown}, under), under);
  const size = parseFloat(style.fontSize), large = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
  if (stands < (large ? 3 : 4.5) - 0.01)
    found.push(`“${node.data.trim().slice(0, 40)}” stands out from its ground by ${stands.toFixed(1)} to 1 only`);
}
document.adoptedStyleSheets = document.adoptedStyleSheets.filter(one => one !== touched);
return [seen, found];
}"""
)

_BROKEN = (
    "pattern => {"
    + _TEXTS
    + """
const blocks = new Map(), found = [];
for (const node of texts()) {
  if (node.parentElement instanceof SVGElement) continue;
  let block = node.parentElement;
  while (getComputedStyle(block).display.startsWith("inline")) block = block.parentElement;
  blocks.set(block, [...(blocks.get(block) || []), node]);
}
for (const nodes of blocks.values()) {
  const text = nodes.map(node => node.data).join("");
  for (const match of text.matchAll(new RegExp(pattern, "g"))) {
    const spots = [];
    let at = 0;
    for (const node of nodes) {
      const from = Math.max(0, match.index - at), to = Math.min(node.length, match.index + match[0].length - at);
      if (from < to) spots.push(...rects(node, from, to));
      at += node.length;
    }
    const middles = spots.map(one => one.y + one.height / 2), high = Math.max(...spots.map(one => one.height));
    if (Math.max(...middles) - Math.min(...middles) > 0.6 * high)
      found.push(`“${match[0].replace(/\\s+/g, " ")}” is broken over two lines`);
  }
}
return found;
}"""
)


def whole_page_in_view(page: Page) -> None:
    """What lies outside the window has nothing under it that the browser would tell."""
    size = page.viewport_size
    assert size is not None
    page.set_viewport_size({"width": size["width"], "height": page.evaluate("document.documentElement.scrollHeight")})


def unclear_words(page: Page) -> list[str]:
    """Words that stand out too little from what is under them or have something painted over them, those of drawings,
    too; for contrast words on a photograph or on a
    pattern, which have no one ground, are left out. Raises AssertionError if no words were seen."""
    whole_page_in_view(page)
    seen, found = page.evaluate(_UNCLEAR)
    assert seen, "no words are seen on the page"
    return list(found)


def broken_measures(page: Page) -> list[str]:
    """Measurements with a line end in them, as `printed.unbroken` takes them."""
    return list(page.evaluate(_BROKEN, MEASURE.pattern))
