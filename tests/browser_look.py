#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Pages as a browser sees them: writes one page that shows each of them in a frame of its own (the width
and the colour scheme asked for), lets axe-core look at it, measures it, and leaves what was found as JSON.

    browser_look.py AXE FRAME...      a FRAME is NAME:WIDTHxHEIGHT:light|dark:PAGE

The page goes to standard output; `chromium --headless --dump-dom` then has the findings in its <pre>.
A frame takes its media from its size and from the colour scheme of the element that holds it."""
import html
import json
import re
import sys

# WCAG 2.2, levels A and AA; on the wall the enhanced contrast of AAA (1.4.6) too.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

LOOK = """
async function look(frame) {
  const page = frame.contentDocument, win = frame.contentWindow, root = page.documentElement;
  const script = page.createElement("script");
  script.textContent = document.getElementById("axe").textContent;
  page.head.append(script);
  const rules = frame.dataset.wall ? {"color-contrast-enhanced": {enabled: true}} : {};
  const found = await win.axe.run(page, {runOnly: {type: "tag", values: RULES}, rules});
  let smallest = 1e9, cut = [];
  const walker = page.createTreeWalker(page.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const holder = walker.currentNode.parentElement;
    if (walker.currentNode.data.trim() === "" || !holder.getClientRects().length) continue;
    smallest = Math.min(smallest, parseFloat(win.getComputedStyle(holder).fontSize));
    const box = holder.getBoundingClientRect();
    if (holder.closest(".clamp")) continue; // ends with an ellipsis
    if (box.right > win.innerWidth + 1 || (frame.dataset.wall && box.bottom > win.innerHeight + 1))
      cut.push(walker.currentNode.data.trim());
  }
  return {name: frame.name, violations: found.violations.map(one => one.id + ": " + one.nodes[0].html),
          passes: found.passes.length, incomplete: found.incomplete.map(one => one.id), smallest, cut,
          ground: win.getComputedStyle(page.body).backgroundColor,
          old: !page.querySelector(".old").hidden,
          wide: root.scrollWidth > win.innerWidth};
}
addEventListener("load", async () => {
  const findings = [];
  for (const frame of document.querySelectorAll("iframe")) findings.push(await look(frame));
  const pre = document.createElement("pre");
  pre.textContent = JSON.stringify(findings);
  document.body.replaceChildren(pre);
});
"""


def main():
    axe = open(sys.argv[1], encoding="utf-8").read().replace("</script", "<\\/script")
    print("<!DOCTYPE html><meta charset='utf-8'><body>")
    print(f"<script id='axe' type='text/plain'>{axe}</script>")
    print("<script>const RULES = " + json.dumps(RULES) + ";" + LOOK + "</script>")
    for frame in sys.argv[2:]:
        name, size, scheme, path = frame.split(":", 3)
        width, height = size.split("x")
        # The page lets no script in but its own; what looks at it is one.
        page = re.sub('<meta http-equiv="Content-Security-Policy"[^>]*>', "", open(path, encoding="utf-8").read())
        wall = " data-wall='yes'" if name.startswith("wall") else ""
        print(f"<iframe name='{name}'{wall} style='border:0;width:{width}px;height:{height}px;color-scheme:{scheme}' "
              f"srcdoc=\"{html.escape(page)}\"></iframe>")


main()
