"""A real browser for tests: headless Chromium, driven by its command line alone."""

import json
import os
import re
import shutil
import subprocess
from html import escape, unescape

NAMES = ("chromium", "chromium-browser", "google-chrome")
PATH = next((found for name in NAMES if (found := shutil.which(name))), None)
SECONDS = 240  # for one page on a busy machine


def _run(page, width, *flags):
    command = [PATH, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars", "--no-first-run", "--disable-extensions",
               f"--user-data-dir={page.parent / 'profile'}", f"--window-size={width},900", "--enable-logging=stderr", *flags, page.as_uri()]
    return subprocess.run(command, capture_output=True, text=True, timeout=SECONDS, check=True, env={**os.environ, "HOME": str(page.parent)})


def console_of(written):
    """What pages told the console, out of the browser's own log."""
    return re.findall(r"CONSOLE[^\]]*\] (.*)", written)


def seen(html, folder, width, script):
    """What a script finds in a page: (its answer, lines of the console).

    The page stands in a frame of the width asked for: a window of its own is never narrower than 500 px.

    Parameters
    ----------
    html : of the page
    folder : to work in
    width : of the frame [px]
    script : the body of a function whose answer can be written as JSON
    """
    probe = f'<script>addEventListener("load", () => {{ parent.document.body.dataset.seen = JSON.stringify((() => {{ {script} }})()); }})</script></head>'
    inside = escape(html.replace("</head>", probe, 1))
    page = folder / f"page_{width}.html"
    page.write_text(f'<!DOCTYPE html><html><body style="margin:0"><iframe style="border:0" width="{width}" height="900" srcdoc="{inside}"></iframe></body></html>',
                    encoding="utf-8")
    done = _run(page, width, "--dump-dom")
    found = re.findall(r'<body[^>]* data-seen="([^"]*)"', done.stdout)
    assert len(found) == 1, f"the page told nothing: {done.stderr[-2000:]}"
    return json.loads(unescape(found[0])), console_of(done.stderr)


def printed_pages(html, folder):
    """How many pages of paper a page of HTML is printed on."""
    page = folder / "printed.html"
    page.write_text(html, encoding="utf-8")
    _run(page, 800, "--no-pdf-header-footer", f"--print-to-pdf={folder / 'printed.pdf'}")
    return len(re.findall(rb"/Type */Page\b(?!s)", (folder / "printed.pdf").read_bytes()))


def screenshot(html, folder, width):
    """The page as a PNG file, as a window of that width shows its beginning."""
    page = folder / "shown.html"
    page.write_text(html, encoding="utf-8")
    picture = folder / f"shown_{width}.png"
    _run(page, width, f"--screenshot={picture}")
    return picture
