# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""What a browser makes of the reports: reads HTML files, asks Chromium, prints what is wrong.

usage: browser.py CHROMIUM FOLDER FILE...

Each report is laid out in frames of one page, at the widths of a telephone and of a desk, dark, and
as it is printed on A4 and on Letter (paper less margins of 15 mm, at 96 pixels to the inch). In
each frame a script, which is ours and not the report's, measures what there is.
"""
import html
import json
import os
import re
import subprocess
import sys

SCREEN_DARK = "@media screen and (prefers-color-scheme:dark)"
VIEWS = [  # name, width in pixels, what becomes of the style
    ("telephone", 400, {}),
    ("desk", 1100, {}),
    ("dark", 1100, {SCREEN_DARK: "@media all"}),
    ("A4", 680, {"@media print": "@media all", SCREEN_DARK: "@media not all"}),
    ("Letter", 702, {"@media print": "@media all", SCREEN_DARK: "@media not all"}),
]

MEASURE = r"""
function luminance(colour) {
    const part = colour.match(/[\d.]+/g).slice(0, 3).map(v => {
        v /= 255;
        return v <= 0.03928 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4);
    });
    return 0.2126 * part[0] + 0.7152 * part[1] + 0.0722 * part[2];
}
function contrast(a, b) {
    const x = luminance(a), y = luminance(b);
    return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}
function background(element, view) {
    for (; element; element = element.parentElement) {
        const colour = view.getComputedStyle(element).backgroundColor;
        if (!/, 0\)$/.test(colour)) return colour;
    }
    return "rgb(255, 255, 255)";
}
function words(element) { return element.textContent.trim().slice(0, 50); }

/* texts of a picture: inside it, and none on another */
function picture(svg, view, say) {
    const box = svg.viewBox.baseVal, placed = [];
    if (svg.getAttribute("role") != "img") say("a picture has no role");
    for (const name of ["title", "desc"])
        if (!svg.querySelector(":scope > " + name)?.textContent) say("a picture has no " + name);
    const paper = view.getComputedStyle(svg.querySelector(".bg")).fill;
    for (const text of svg.querySelectorAll("text")) {
        const at = text.getBBox();
        if (at.x < -0.5 || at.y < -0.5 || at.x + at.width > box.width + 0.5 ||
            at.y + at.height > box.height + 0.5)
            say("outside its picture: " + words(text));
        /* the ink of a line is lower than its box */
        const ink = {l: at.x, r: at.x + at.width, t: at.y + 3, b: at.y + at.height - 3};
        for (const [other, of] of placed)
            if (ink.l < other.r && other.l < ink.r && ink.t < other.b && other.t < ink.b)
                say("one on the other: " + words(text) + " | " + of);
        placed.push([ink, words(text)]);
        const ratio = contrast(view.getComputedStyle(text).fill, paper);
        if (ratio < 4.5) say("contrast " + ratio.toFixed(1) + ": " + words(text));
    }
    return placed.length;
}

function page(frame, name, print) {
    const found = [], view = frame.contentWindow, doc = frame.contentDocument;
    const say = text => found.push(name + ": " + text);
    const wide = doc.documentElement.clientWidth;
    let texts = 0;
    if (doc.documentElement.scrollWidth > wide)
        say("wider than the page: " + doc.documentElement.scrollWidth + " of " + wide);
    for (const svg of doc.querySelectorAll("svg")) texts += picture(svg, view, say);
    for (const element of doc.querySelectorAll("main *:not(svg *):not(svg)")) {
        if (![...element.childNodes].some(n => n.nodeType == 3 && n.textContent.trim())) continue;
        if (!element.getClientRects().length) continue; /* folded away */
        texts++;
        const ratio = contrast(view.getComputedStyle(element).color, background(element, view));
        if (ratio < 4.5) say("contrast " + ratio.toFixed(1) + ": " + words(element));
        /* on a screen what is too wide has a bar of its own to be moved by; paper has none */
        if (!print && element.closest(".s, figure")) continue;
        if (element.getBoundingClientRect().right > wide + 1) say("over the edge: " + words(element));
    }
    for (const head of doc.querySelectorAll("th")) if (!head.scope) say("a head without scope");
    let last = 0;
    for (const head of doc.querySelectorAll("h1, h2, h3")) {
        const level = +head.tagName[1];
        if (level > last + 1) say("a heading skips a level: " + words(head));
        last = level;
    }
    if (doc.querySelectorAll("h1").length != 1) say("not one first heading");
    if (doc.querySelector("script, link[href^=http], img, [src]")) say("it needs more than itself");
    if (texts < 8) say("only " + texts + " texts were found");
    return found;
}

async function all() {
    let found = [];
    for (const report of REPORTS) {
        const frame = document.createElement("iframe");
        frame.style.width = report.width + "px";
        frame.style.height = "900px";
        frame.style.border = "0";
        frame.srcdoc = report.text;
        await new Promise(done => { frame.onload = done; document.body.append(frame); });
        for (const fold of frame.contentDocument.querySelectorAll("details")) fold.open = true;
        found = found.concat(page(frame, report.name, report.print));
        frame.remove();
    }
    const result = document.createElement("pre");
    result.id = "result";
    result.textContent = "[[" + JSON.stringify({frames: REPORTS.length, found}) + "]]";
    document.body.append(result);
}
all();
"""


def reports(files):
    for file in files:
        with open(file, encoding="utf-8") as stream:
            text = stream.read()
        for name, width, changes in VIEWS:
            changed = text
            for old, new in changes.items():
                assert old in changed, old
                changed = changed.replace(old, new)
            yield {"name": "%s, %s" % (os.path.basename(file), name), "width": width,
                   "text": changed, "print": name in ("A4", "Letter")}


def ask(chromium, folder, *arguments):
    return subprocess.run(
        [chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic",
         "--no-first-run", "--disable-background-networking", "--disable-component-update",
         "--disable-sync", "--user-data-dir=" + os.path.join(folder, "profile"),
         "--enable-logging=stderr", *arguments],
        capture_output=True, text=True, timeout=240)


def main():
    chromium, folder, files = sys.argv[1], sys.argv[2], sys.argv[3:]
    harness = os.path.join(folder, "harness.html")
    given = json.dumps(list(reports(files))).replace("</", "<\\/").replace("<!--", "<\\!--")
    with open(harness, "w", encoding="utf-8") as stream:
        stream.write("<!DOCTYPE html><meta charset=utf-8><body><script>const REPORTS = %s;\n%s"
                     "</script>" % (given, MEASURE))
    done = ask(chromium, folder, "--virtual-time-budget=200000", "--window-size=1200,900",
               "--dump-dom", "file://" + harness)
    result = re.search(r'<pre id="result">\[\[(.*?)\]\]</pre>', done.stdout, re.S)
    if not result:
        print("no result from the browser")
        print(done.stderr[-2000:])
        return 1
    result = json.loads(html.unescape(result.group(1)))
    found = result["found"]
    found += [file + ": larger than 200 KiB" for file in files if os.path.getsize(file) > 200 * 1024]
    found += [line for line in done.stderr.splitlines() if "CONSOLE" in line]
    # a real print of the first: that it is printed at all
    paper = os.path.join(folder, "paper.pdf")
    ask(chromium, folder, "--print-to-pdf=" + paper, "file://" + os.path.abspath(files[0]))
    with open(paper, "rb") as stream:
        if stream.read(5) != b"%PDF-":
            found.append("what is printed is no PDF")
    for line in found:
        print(line)
    print("%d frames measured" % result["frames"])
    return 1 if found else 0


sys.exit(main())
