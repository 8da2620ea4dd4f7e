"""Finds text that is fainter than 4.5:1 against what lies behind it (WCAG 2.2, 1.4.3; formula from memory)."""

from typing import Any

from playwright.sync_api import Page

LEAST = 4.5
_FIND = """(least) => {
  const parse = text => { const n = text.match(/[\\d.]+/g).map(Number); return [n[0], n[1], n[2], n[3] ?? 1]; };
  const over = (front, back) => [0, 1, 2].map(i => front[i] * front[3] + back[i] * (1 - front[3])).concat(1);
  const light = c => c.slice(0, 3).map(v => v / 255)
    .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = element => {
    const layers = [];
    for (let e = element; e; e = e.parentElement) layers.push(parse(getComputedStyle(e).backgroundColor));
    return layers.reverse().reduce((back, layer) => over(layer, back), [255, 255, 255, 1]);
  };
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement, text = walker.currentNode.textContent.trim();
    if (!text || !element.checkVisibility({opacityProperty: true, visibilityProperty: true})) continue;
    const box = element.getBoundingClientRect();
    if (box.width < 2 || element.closest('svg, style, script, [disabled], canvas')) continue;
    const style = getComputedStyle(element);
    if (!style.color.startsWith('rgb')) continue;
    const back = ground(element), front = over(parse(style.color), back);
    const [high, low] = [light(front), light(back)].sort((a, b) => b - a);
    const ratio = (high + 0.05) / (low + 0.05);
    if (ratio < least) found.push([text.slice(0, 60), Math.round(ratio * 100) / 100, style.color]);
  }
  return found;
}"""


def too_faint(page: Page) -> list[list[Any]]:
    """(text, ratio, colour) of every visible text below 4.5:1; disabled controls are exempt."""
    found: list[list[Any]] = page.evaluate(_FIND, LEAST)
    return found
