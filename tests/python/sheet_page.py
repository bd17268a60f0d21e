"""A page of HTML as tests read it: elements, headings, tables as rows of texts."""

import re
from html.parser import HTMLParser

EMPTY = {"meta", "br", "img", "input", "hr", "link"}


class Page(HTMLParser):
    """What a page says: its elements with their attributes, its headings, its tables as rows of texts; refuses what does not nest."""

    def __init__(self, html):
        super().__init__(convert_charrefs=True)
        self.open, self.elements, self.headings, self.tables, self.words = [], [], [], [], []
        self.feed(html)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attributes):
        self.elements.append((tag, dict(attributes), tuple(self.open)))
        if tag in EMPTY:
            return
        self.open.append(tag)
        if re.fullmatch("h[1-6]", tag):
            self.headings.append([int(tag[1]), ""])
        if tag == "table":
            self.tables.append(["", []])
        if tag == "tr":
            self.tables[-1][1].append([])
        if tag in ("td", "th"):
            self.tables[-1][1][-1].append("")

    def handle_startendtag(self, tag, attributes):
        self.elements.append((tag, dict(attributes), tuple(self.open)))

    def handle_endtag(self, tag):
        assert self.open and self.open.pop() == tag, f"</{tag}> ends nothing"

    def handle_data(self, data):
        if "style" in self.open:
            return
        if "svg" not in self.open:
            self.words.append(data)
        if self.open and re.fullmatch("h[1-6]", self.open[-1]):
            self.headings[-1][1] += data
        if "caption" in self.open:
            self.tables[-1][0] += data
        elif "td" in self.open or ("th" in self.open and "tr" in self.open):
            self.tables[-1][1][-1][-1] += data

    @property
    def text(self):
        return re.sub(r"\s+", " ", " ".join(self.words))

    def table(self, caption):
        (found,) = [rows for said, rows in self.tables if said == caption]
        return found

    def row(self, caption, first):
        (found,) = [row for row in self.table(caption) if row[0] == first]
        return found

    def all(self, tag):
        return [attributes for name, attributes, _ in self.elements if name == tag]
