#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally by dates: a fiscal year, closed days, what is refused. The working days are those that
# tests/test_dates.c counts by hand.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
data=$source/data
cp "$data/solvent-shop.csv" shop.csv
cp "$data/calendar-2027.csv" days.csv

# bad STATUS WORDS ARGUMENT...: one line with the words, nothing on stdout
bad()
{
    status=$1
    words=$2
    shift 2
    expect "$status" "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    [ "$(wc -l <err)" -eq 1 ] || fail "$*: not one line"
    grep -F -- "$words" err >/dev/null || fail "$*: not said: $words"
}

# ---- misuse and bad data ----
misuse "--begin '2027' is not a month" --begin 2027 shop.csv
misuse "--begin '2027-13' is not a month" --begin 2027-13 shop.csv
misuse "--begin '0027-04' is not a month" --begin 0027-04 shop.csv
misuse 'are of a year, a quarter or a month' --begin 2027-04 --for day shop.csv
misuse 'are of a year, a quarter or a month' --calendar days.csv --loads 5 shop.csv
misuse 'only one file' --calendar - -
bad 4 'nowhere.csv' --calendar nowhere.csv shop.csv
printf 'from,shifts\n2027-02-30,0\n' >no-day.csv
bad 3 "no-day.csv:2: from '2027-02-30' is no day" --calendar no-day.csv shop.csv
printf 'from,weekdays,shifts\n2027-03-13,Sat,4\n' >long.csv
bad 3 'long.csv:2: the 4 shifts of a day take 32 h' --calendar long.csv shop.csv
bad 3 "its year is 2025, and the line's begins with 2027-01" \
    --calendar days.csv --actual "$data/purchases.csv" shop.csv

# ---- 2027: 191 days of 2 x 70 loads, 44 of 70, a Saturday of 40; 365 days of 24 h ----
good --draws 0 --calendar days.csv shop.csv
prints 'a year from January 2027 takes'
prints '29860 loads on 236 working days of 365 by their dates: 3416 h of shifts, and 5344 h of'
prints 'the year begins with January 2027'
prints 'Mon-Fri are worked: the schedule does not name its weekdays'
prints '236 working days by date; the 240 days per year of the file do not count'
prints 'wash: dumped behind each 700 loads, whatever days are closed'
good --draws 0 --begin 2027-04 --calendar days.csv --by month shop.csv
# April first, 22 days of 140 loads; August has 7
[ "$(sed -n 's/^\([A-Z][a-z]*\) *[0-9].*/\1/p' out | sed -n '1p;$p' | tr '\n' ' ')" = 'April March ' ] ||
    fail 'the months do not go from April to March'
grep -E '^April +3080 ' out >/dev/null || fail 'April'
grep -E '^August +980 ' out >/dev/null || fail 'August'
# 29 days of February 2028 without a calendar: 21 days
good --draws 0 --begin 2028-02 --for month shop.csv
prints 'February 2028 takes'
prints '2940 loads on 21 working days of 29 by their dates'
prints 'no day of the year is closed but by its weekday'
good --format json --begin 2028-02 shop.csv
grep '"begins": *"2028-02"' out >/dev/null || fail 'the first month in JSON'
good --draws 0 --calendar days.csv --by quarter shop.csv
grep -E '^January to March ' out >/dev/null || fail 'the first quarter'
grep -E '^October to December ' out >/dev/null || fail 'the last quarter'
good --draws 0 --calendar days.csv --for quarter shop.csv
prints 'the quarter from January 2027 takes'
prints 'working days of 90 by their dates'
good --draws 0 --from running --calendar days.csv --by month shop.csv
prints 'three months, L'
prints 'November to January'
prints 'twelve months, L'
prints 'February to January'
good --format csv --for quarter shop.csv
grep ',quarter,' out >/dev/null || fail 'the period in CSV'
misuse 'is a view of a year' --by quarter --for quarter shop.csv
good --explain --calendar days.csv shop.csv
prints 'working days by their dates: 236 = 20 + 20 + 22 + 22 + 19 + 22 + 22 + 7 + 22 + 21 + 22'

exit $failed
