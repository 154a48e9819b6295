# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# What dregs_ask answers is what the tools print with --format json, byte by byte, and what is wrong
# is what they say: one table of cases makes both the command line and the request.
#
#     ask.py TOOL DATA
import ctypes
import json
import os
import subprocess
import sys
import threading

import dregs

try:
    import jsonschema
except ImportError:
    jsonschema = None

tool, data = sys.argv[1:]
failed = 0
checked = 0
schema = {}
for name in ("request", "faults"):
    with open(os.path.join(data, "dregs-%s.schema.json" % name), encoding="utf-8") as file:
        schema[name] = json.load(file)


def fail(words):
    global failed
    failed = 1
    print("FAILED: " + words)


def valid(document, name, words):
    if jsonschema:
        try:
            jsonschema.validate(document, schema[name])
        except jsonschema.ValidationError as error:
            fail("%s: %s schema: %s" % (words, name, error.message))


FILES = ("liquids", "readings", "calendar", "actual")


def read(name):
    with open(name, encoding="utf-8", newline="") as file:
        return {"name": name, "text": file.read()}


def command(verb, lines, options):
    """The command line of a case."""
    words = [tool, verb, "--format", "json"]
    for name, value in options.items():
        if name == "readings":
            continue
        for one in value if isinstance(value, list) else [value]:
            if one is True:
                words.append("--" + name)
            elif name == "site":
                words += ["--site", "%s=%s" % (one[0], ",".join(one[1:]))]
            else:
                words += ["--" + name, str(one)]
    words += lines
    if "readings" in options:
        words.append(options["readings"])
    return words


def request(verb, lines, options):
    made = {"verb": verb}
    if lines:
        made["line"] = [read(line) for line in lines] if len(lines) > 1 else read(lines[0])
    for name, value in options.items():
        if name in FILES:
            value = read(value)
        elif name == "site":
            value = [{"name": one[0], "line": [read(line) for line in one[1:]]} for one in value]
        made[name] = value
    return made


def both(verb, lines, wanted=0, **options):
    """Asks both ways, compares, and returns the answer."""
    global checked
    checked += 1
    options = {name.rstrip("_").replace("_", "-"): value for name, value in options.items()}
    words = "%s %s %s" % (verb, " ".join(lines), options)
    run = subprocess.run(command(verb, lines, options), stdin=subprocess.DEVNULL,
                         stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    asked = request(verb, lines, options)
    if wanted != 2:
        valid(asked, "request", words)
    status, text = dregs.ask_json(json.dumps(asked))
    if run.returncode != wanted:
        fail("%s: the tool exits %d: %s" % (words, run.returncode, run.stderr.decode()))
    elif wanted == 0:
        if status or text.encode() != run.stdout:
            fail("%s: status %d, another answer: %.300s" % (words, status, text))
    else:
        document = json.loads(text)
        valid(document, "faults", words)
        said = ["dregs %s: %s" % (verb, line)
                for line in str(dregs.Faults(document)).split("\n")]
        if wanted == 2:
            said.append("try 'dregs %s --help'" % verb)
        if not status or document["exit"] != wanted or document["tool"] != verb or \
                "\n".join(said) + "\n" != run.stderr.decode():
            fail("%s: status %d, other words: %s: %s" % (words, status, text, run.stderr.decode()))
    return text


def wrong(text, option, words, status=1):
    """A request that has no command line; what is wrong with it."""
    global checked
    checked += 1
    got, answer = dregs.ask_json(text)
    document = json.loads(answer)
    valid(document, "faults", text)
    fault = document["faults"][0]
    if got != status or document["exit"] != 2 or fault["option"] != option or \
            words not in fault["text"]:
        fail("%s: status %d: %s" % (text, got, answer))


# ---- answers ----
os.chdir(data)
aqueous, bench, shop, solvent = ("aqueous-line.csv", "rinse-bench.csv", "solvent-shop.csv",
                                 "solvent-bench.csv")
both("check", [shop])
both("check", ["mixed-loads.csv"])
both("predict", [aqueous], draws=0)
both("predict", [aqueous], draws=200, seed=7, threads=1, loads=60, every=20)
both("predict", [aqueous], draws=0, at=[3, 150, 3])
both("predict", [solvent], draws=0, loads=10)
both("predict", ["week-rinse.csv"], draws=0)
both("predict", [aqueous, bench], draws=0, loads=50)
both("size", [aqueous], vary="last.flow", draws=0)
both("size", [aqueous], vary=["last.flow=1..30 L/h", "first.exchange"], draws=0)
both("size", [aqueous], stages="1..2", draws=0)
both("size", [aqueous], stages=2, layout="counterflow", draws=0)
both("size", [aqueous], vary="last.flow", draws=0, trade_off=True, loads=100)
both("size", [solvent], vary="beaker.dump every", draws=0)
both("dry", [], liquid="isopropanol", film="20 um", at="22degC", draws=0)
both("dry", [], liquid="isopropanol", share="70%", film="20 um", at=["22degC", "40degC"],
     air_speed="1 m/s", air="turbulent", humidity="40%", until="1 %", draws=0)
both("dry", [shop], draws=0)
both("dry", [solvent], draws=50, air_speed="0.3 m/s")
both("reuse", [bench])
both("reuse", [bench], readings="rinse-readings.csv")
both("reuse", [bench], readings="rinse-readings.csv", noise="3 %", limit="1 ug/cm2", loads_since=2)
both("reuse", [bench], readings="stopped-flow.csv", measure_drag_out=True)
both("tally", [shop], draws=0)
both("tally", [shop], draws=0, by="month", from_="running")
both("tally", [shop], draws=0, for_="month", begin="2027-03")
both("tally", [shop], draws=0, by="form", head=["company=A Workshop", "author=B"][:1])
both("tally", [aqueous], draws=0, loads=40)
both("tally", [shop, aqueous], draws=0, loads=40)
both("tally", [shop], draws=0, law=True, given=["captured=80%"], calendar="calendar-2027.csv")
both("tally", [shop], draws=0, actual="purchases.csv")
both("tally", [shop], draws=0, law=True, units="us")
both("tally", [shop], draws=0, instead="isopropanol=ethyl acetate")
both("tally", [], draws=0, site=[["north", shop]])
for verb, lines, options in (("predict", [aqueous], {"draws": 0}), ("predict", [aqueous], {"draws": 50}),
                             ("predict", [aqueous], {"draws": 0, "at": 7}),
                             ("predict", [aqueous, bench], {"draws": 0, "loads": 50}),
                             ("size", [aqueous], {"draws": 0, "vary": "last.flow"}),
                             ("dry", [shop], {"draws": 0}),
                             ("reuse", [bench], {"readings": "rinse-readings.csv"}),
                             ("reuse", [bench], {"readings": "stopped-flow.csv",
                                                 "measure_drag_out": True}),
                             ("tally", [shop], {"draws": 0})):
    told = json.loads(both(verb, lines, explain=True, **options))
    if not told.get("working"):
        fail("%s: explain, and no working" % verb)

# ---- what is wrong ----
with open("aqueous-line.csv", encoding="utf-8") as file:
    text = file.read()
folder = os.environ["ASK_WORK"]
for name, old, new in (("kg.csv", "bath,volume,28,L", "bath,volume,28,kg"),
                       ("two.csv", "bath,", "bath ,,,")):
    with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
        file.write(text.replace(old, new))
both("predict", [os.path.join(folder, "kg.csv")], 3)
both("predict", [os.path.join(folder, "two.csv")], 3)
both("tally", [os.path.join(folder, "kg.csv"), os.path.join(folder, "two.csv")], 3)
both("tally", [aqueous], 3)
both("dry", ["mixed-loads.csv"], 3)
both("reuse", [bench], 3, readings="purchases.csv")
both("predict", [aqueous], 3, liquids="purchases.csv")
both("tally", [shop], 3, calendar="purchases.csv")
both("tally", [shop], 3, actual="calendar-2027.csv")
both("tally", [shop], 3, actual="purchases.csv", year=1999)
with open(os.path.join(folder, "twice.csv"), "w", encoding="utf-8") as file: # February stands twice
    file.write("date,liquid,quantity,unit,kind\n2025-01-31,per,9,kg,stock\n" +
               "2025-02-03,per,5,kg,bought\n2025-02-28,per,7,kg,stock\n" * 2)
twice = {"draws": 0, "begin": "2025-01", "actual": os.path.join(folder, "twice.csv")}
both("tally", ["../tests/by-hand/shop.csv"], **twice)
if "stands twice" not in both("tally", ["../tests/by-hand/shop.csv"], 3, law=True, **twice):
    fail("a month that stands twice in the log of a facility")
both("predict", [aqueous], 2, loads="many")
both("predict", [aqueous], 2, loads=0)
both("predict", [aqueous], 2, at=5, every=2)
both("predict", [aqueous], 2, draws=1.5)
both("predict", [aqueous, bench], 2, at=5)
both("predict", [aqueous], 2, explain=True, every=2)
both("tally", [shop, aqueous], 2, explain=True, loads=3)
both("tally", [], 2, site=[["north", shop]], explain=True)
both("tally", [shop], 2, instead="isopropanol=ethyl acetate", explain=True)
both("size", [aqueous], 2)
both("size", [aqueous], 2, vary="last.flow", stages=2)
both("size", [aqueous], 2, vary="nothing.flow")
both("size", [aqueous], 2, stages=2, layout="spiral")
both("size", [aqueous], 2, vary="last.flow", confidence="95%", draws=0)
both("dry", [], 2, liquid="isopropanol")
both("dry", [], 2, liquid="izopropanol", film="20 um", at="22degC")
both("dry", [], 2, liquid="isopropanol", film=20, at="22degC")
both("dry", [shop], 2, film="20 um")
both("reuse", [bench], 2, loads_since=3)
both("reuse", [bench], 2, noise="3 L")
both("tally", [shop], 2, for_="month", loads=3)
both("tally", [shop], 2, units="imperial")
both("tally", [shop], 2, by="colour")
both("tally", [shop], 2, given="captured=80%")
both("tally", [shop], 2, instead="isopropanol=ethyl acetate", law=True)
both("tally", [shop], 2, begin="2027-13")
wrong("", None, "")
wrong("[]", None, "no JSON object")
wrong('{"verb": "predict",\n "verb": "size"}', None, "duplicate")
wrong("{}", "verb", "no verb")
wrong('{"verb": "prdict"}', "verb", "is not one of predict", 4)
wrong('{"verb": "predict"}', "line", "no line file given")
wrong('{"verb": "predict", "line": 3}', "line", "neither the text of a file")
wrong('{"verb": "predict", "line": {"text": "", "more": 1}}', "line", "neither the text of a file")
wrong('{"verb": "predict", "line": "", "lods": 3}', "lods", "nearest: 'loads'", 4)
wrong('{"verb": "predict", "line": "", "loads": true}', "loads", "neither a text nor a number")
wrong('{"verb": "size", "line": "", "steady": 1}', "steady", "neither true nor false")
wrong('{"verb": "check", "line": ["", ""]}', "line", "2 line files; check takes 1 at most")
wrong('{"verb": "tally", "line": "", "site": {"name": "a", "line": ""}}', "line", "besides")
wrong('{"verb": "tally", "site": {"name": "", "line": ""}}', "site", "is not an object of")
wrong('{"verb": "check", "line": "", "explain": true}', "explain", "no option of check", 4)

# ---- files that belong to an answer stand in it: what the tool writes, byte by byte ----
def file_of(verb, wanted, files, **options):
    global checked
    checked += 1
    status, answer = dregs.ask_json(json.dumps(request(verb, [files], options)))
    document = json.loads(answer)
    valid(request(verb, [files], options), "request", verb)
    if jsonschema:
        with open("dregs-report.schema.json", encoding="utf-8") as file:
            jsonschema.validate(document, json.load(file))
    if status or document.get("files") != wanted:
        fail("%s %s: status %d: %.300s" % (verb, options, status, document.get("files")))


def printed(*words):
    return subprocess.run([tool, *words], stdout=subprocess.PIPE, check=False).stdout.decode()


file_of("size", {"write": printed("size", "--draws", "0", "--vary", "last.flow", "--write", "-",
                                  aqueous)}, aqueous, vary="last.flow", draws=0, write=True)
file_of("size", {"write": None}, aqueous, vary="last.flow=1..1.1 L/h", draws=0, write=True)
file_of("reuse", {"card": printed("reuse", "--card", bench, "rinse-readings.csv")}, bench,
        readings="rinse-readings.csv", card=True)
wrong('{"verb": "size", "line": "", "stages": "1..2", "write": true}', None, "needs one layout", 1)

# the line of the request where its JSON ends
status, answer = dregs.ask_json('{"verb": "predict",\n\n oops}')
if json.loads(answer)["faults"][0]["line"] != 3:
    fail("the line of what is no JSON: " + answer)

# ---- every option of a tool is one of the request, or of the command line alone ----
ALONE = {"format", "force", "check", "cautions", "picture", "help", "version",
         "wide", "separator", "decimal", "config", "shard", "save", "merge", "each"}
library = dregs._library
library.dregs_asked_new.argtypes = [ctypes.c_char_p, ctypes.POINTER(ctypes.c_void_p)]
library.dregs_asked_option.restype = ctypes.c_char_p
library.dregs_asked_option.argtypes = [ctypes.c_void_p, ctypes.c_uint]
library.dregs_asked_free.restype = None
library.dregs_asked_free.argtypes = [ctypes.c_void_p]
for verb in ("predict", "size", "dry", "reuse", "tally", "check"):
    asked = ctypes.c_void_p()
    if library.dregs_asked_new(verb.encode(), ctypes.byref(asked)):
        fail("no verb " + verb)
        continue
    names, index = set(), 0
    while True:
        name = library.dregs_asked_option(asked, index)
        if name is None:
            break
        names.add(name.decode())
        index += 1
    library.dregs_asked_free(asked)
    shown = subprocess.run([tool, verb, "--help"], stdout=subprocess.PIPE, check=True).stdout
    options = {word.split(",")[0].split("=")[0][2:] for line in shown.decode().split("\n")
               for word in line.split()[:1] if word.startswith("--")}
    if options - ALONE != names - {"readings"}:
        fail("%s: options of one alone: %s" % (verb, (options - ALONE) ^ (names - {"readings"})))
    listed = set(schema["request"]["definitions"][verb]["properties"])
    if listed != names | {"verb", "line"}:
        fail("%s: members of one alone: %s" % (verb, listed ^ (names | {"verb", "line"})))

# ---- several threads ----
line = read(aqueous)
answers = [None] * 4


def ask(at):
    answers[at] = dregs.ask_json(json.dumps(
        {"verb": "predict", "line": line, "draws": 50, "threads": 1 + at}))


threads = [threading.Thread(target=ask, args=(at,)) for at in range(len(answers))]
for thread in threads:
    thread.start()
for thread in threads:
    thread.join()
if answers[0][0] or any(answer != answers[0] for answer in answers):
    fail("several threads do not answer alike")

print("%d cases%s" % (checked, "" if jsonschema else ", no schema (python3-jsonschema)"))
sys.exit(failed)
