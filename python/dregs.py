# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""dregs from Python: what a cleaning line leaves on the parts, by the library itself.

One file on top of libdregs.so.0, with nothing but Python's own modules. Each verb of the command
line is a function, and its long options are arguments by the same names:

    import dregs

    answer = dregs.predict("my-line.csv", loads=100, draws=0)
    print(answer.is_, answer.figure("worst_residue"))
    rows = answer.table("loads")            # a list of dictionaries
    frame = pandas.DataFrame(rows)          # if you have pandas

An underscore stands for the dash of an option (loads_since), and one at the end is taken off
(for_="month", from_="running"). True is an option without an argument, a list is one that is said
again, None is one that is not said. Quantities are texts with their units, as on the command line:
film="20 um". What is wrong raises Faults, which has the lines of the files.

A file is its name, or a Text. Several threads may ask at once.

The library is looked for in DREGS_LIBRARY, where the system looks, and in the folders above this
file. The options are in dregs-predict(1) and its neighbours, the answers in dregs-report(5), the
request behind this in dregs-json(7).
"""
import ctypes
import json
import os

__all__ = ["Answer", "Faults", "Text", "ask", "check", "dry", "predict", "reuse", "size", "tally",
           "version"]

_NAME = "libdregs.so.0"


class Text:
    """A file that is in memory: its text, and the name that messages and answers call it by."""

    def __init__(self, text, name=None):
        self.text = text
        self.name = name

    def _request(self):
        return self.text if self.name is None else {"name": self.name, "text": self.text}


class Faults(Exception):
    """What is wrong. `status` in words, `exit` as the command line would end, `faults`: a list of
    dictionaries with "file", "line", "option" and "text", each of the first three None where there
    is none."""

    def __init__(self, document):
        self.status = document["status"]
        self.exit = document["exit"]
        self.faults = document["faults"]
        Exception.__init__(self, "\n".join(self._words(fault) for fault in self.faults))

    @staticmethod
    def _words(fault):
        place = [str(fault[key]) for key in ("file", "line") if fault[key] is not None]
        return ":".join(place) + (": " if place else "") + fault["text"]


class Answer(dict):
    """The report of an answer, as dregs-report(5) has it: a dictionary, with shorter ways to what
    is asked for most."""

    @property
    def is_(self):
        """The verdict: "met", "missed", "unknown", or "none" where there is no target."""
        return self["verdict"]["is"]

    @property
    def words(self):
        """The sentences of the verdict."""
        return self["verdict"]["words"]

    def figure(self, key):
        """A figure: a number, a word, True or False; None where it is not known."""
        figure = self["figures"][key]
        return figure["value"] if isinstance(figure, dict) else figure

    def unit(self, key):
        """The unit of a figure; None of what has none."""
        figure = self["figures"][key]
        return figure["unit"] if isinstance(figure, dict) else None

    def between(self, key):
        """The ends of the range of a figure; None where it has none."""
        figure = self["figures"][key]
        return (figure["low"], figure["high"]) if isinstance(figure, dict) and "low" in figure \
            else None

    def table_keys(self):
        """The keys of the tables."""
        return [table["key"] for table in self["tables"]]

    def _table(self, key):
        for table in self["tables"]:
            if table["key"] == key:
                return table
        raise KeyError("no table %r; there are %s" % (key, ", ".join(self.table_keys())))

    def units(self, key):
        """The units of a table: a dictionary by column."""
        return {column["key"]: column["unit"] for column in self._table(key)["columns"]}

    def columns(self, key):
        """A table by columns: a dictionary of lists, as pandas.DataFrame takes it. A column whose
        numbers have a range has two more, with _low and _high behind its name."""
        table = self._table(key)
        made = {}
        for at, column in enumerate(table["columns"]):
            cells = [row[at] for row in table["rows"]]
            ranged = any(isinstance(cell, dict) for cell in cells)
            made[column["key"]] = [cell["value"] if isinstance(cell, dict) else cell
                                   for cell in cells]
            for end in ("low", "high") if ranged else ():
                made[column["key"] + "_" + end] = [
                    cell[end] if isinstance(cell, dict) else None for cell in cells]
        return made

    def table(self, key):
        """A table by rows: a list of dictionaries, as pandas.DataFrame takes it, too."""
        columns = self.columns(key)
        return [dict(zip(columns, row)) for row in zip(*columns.values())]


# ---- the library ----

def _candidates():
    given = os.environ.get("DREGS_LIBRARY")
    if given:
        yield given
        return
    yield _NAME
    folder = os.path.dirname(os.path.abspath(__file__))
    while True:
        for inside in ("", "lib"):
            path = os.path.join(folder, inside, _NAME)
            if os.path.exists(path):
                yield path
        above = os.path.dirname(folder)
        if above == folder:
            return
        folder = above


def _open():
    why = []
    for path in _candidates():
        try:
            library = ctypes.CDLL(path)
            library.dregs_ask.restype = ctypes.c_int
            library.dregs_ask.argtypes = [ctypes.c_char_p, ctypes.POINTER(ctypes.c_void_p)]
            library.dregs_ask_free.restype = None
            library.dregs_ask_free.argtypes = [ctypes.c_void_p]
            library.dregs_version.restype = ctypes.c_char_p
            library.dregs_version.argtypes = []
            return library
        except (OSError, AttributeError) as error:
            why.append(str(error))
    raise ImportError("%s was not found; DREGS_LIBRARY names it (%s)" % (_NAME, "; ".join(why)))


_library = _open()


def version():
    """The version of the library."""
    return _library.dregs_version().decode("ascii")


def ask_json(request):
    """A request as dregs-json(7) has it, as a text; returns the status, and the answer as a
    text."""
    answer = ctypes.c_void_p()
    status = _library.dregs_ask(request.encode("utf-8"), ctypes.byref(answer))
    if not answer.value:
        raise MemoryError("libdregs: no memory")
    try:
        return status, ctypes.string_at(answer.value).decode("utf-8")
    finally:
        _library.dregs_ask_free(answer)


# ---- the verbs ----

_FILES = ("liquids", "readings", "calendar", "actual")


def _file(given):
    if isinstance(given, Text):
        return given._request()
    name = os.fspath(given)
    with open(name, encoding="utf-8", newline="") as file:  # as it is: lines may end in CR LF
        return {"name": name, "text": file.read()}


def _files(given):
    return [_file(one) for one in given] if isinstance(given, (list, tuple)) else _file(given)


def _option(name, value):
    if value is None or isinstance(value, bool):
        return value
    if name in _FILES:
        return _file(value)
    if name == "site":
        return [{"name": site, "line": _files(lines)} for site, lines in value.items()]
    return list(value) if isinstance(value, tuple) else value


def ask(verb, *lines, **options):
    """Asks a verb about lines; returns an Answer, or raises Faults."""
    request = {"verb": verb}
    if lines:
        request["line"] = [_file(line) for line in lines]
    for name, value in options.items():
        name = name.rstrip("_").replace("_", "-")
        request[name] = _option(name, value)
    status, text = ask_json(json.dumps(request))
    document = json.loads(text)
    if status:
        raise Faults(document)
    return Answer(document)


def predict(line, *another, **options):
    """What a line leaves on the parts; of two lines, side by side."""
    return ask("predict", line, *another, **options)


def size(line, **options):
    """The rinsing that just meets the target: vary="last.flow", or stages="1..4"."""
    return ask("size", line, **options)


def dry(line=None, **options):
    """When a load is dry, and what its vapour does; without a line, of liquid, film and at."""
    return ask("dry", *([] if line is None else [line]), **options)


def reuse(line, readings=None, **options):
    """Whether a rinse may be used again, from its readings."""
    return ask("reuse", line, readings=readings, **options)


def tally(*lines, **options):
    """Where everything goes in a year, and what it costs; site={"north": ["a.csv", "b.csv"]}."""
    return ask("tally", *lines, **options)


def check(line, **options):
    """What is missing, assumed or implausible in a line file."""
    return ask("check", line, **options)
