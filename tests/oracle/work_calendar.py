"""Reads the calendars of the examples with the icalendar package and holds them against the work list.

    python tests/oracle/work_calendar.py

Reading finds what breaks RFC 5545. Beyond that: every dose of the work list is one all-day event on
its day, with its amount in the title and the description, a name that no other event has and a
later plan repeats, and one reminder in the evening before. `topdress` is the one on the path. Exit
status 1 otherwise.
"""

import collections
import datetime
import json
import pathlib
import subprocess
import sys

import icalendar

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
DAY = datetime.timedelta(days=1)


def asked(season, day, form):
    """The work list of a season in one form, as bytes."""
    command = ["topdress", "work", "--season", season, "--on", day, "--format", form]
    return subprocess.run(command, check=True, capture_output=True).stdout


def outer_faults(text):
    """What is wrong with the text as a stream of lines (RFC 5545, 3.1)."""
    if not text.endswith(b"\r\n"):
        yield "does not end in a line break"
    if b"\n" in text.replace(b"\r\n", b""):
        yield "a line ends without a carriage return"
    for line in text.split(b"\r\n"):
        if len(line) > 75:
            yield f"a line of {len(line)} octets: {line[:40]!r}"


def event_faults(event):
    """What is wrong with one event."""
    for name in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "SEQUENCE"):
        if name not in event:
            yield f"has no {name}"
            return
    start, end = event.decoded("DTSTART"), event.decoded("DTEND")
    if isinstance(start, datetime.datetime) or end - start != DAY:
        yield "is not all of one day"
    if event.decoded("DTSTAMP").utcoffset() != datetime.timedelta(0):
        yield "is stamped in a time that is not UTC"
    alarms = list(event.walk("VALARM"))
    if [str(alarm.get("ACTION")) for alarm in alarms] != ["DISPLAY"]:
        yield "has not one reminder that is shown"
        return
    before = alarms[0].decoded("TRIGGER")
    if not datetime.timedelta(hours=-7) <= before <= datetime.timedelta(hours=-3):
        yield f"reminds {before} from the beginning of its day"


def checked(season, day, faults):
    """Checks one calendar; returns the days of its events by their names."""
    text = asked(season, day, "ics")
    name = f"{pathlib.Path(season).parent.name} on {day}"
    faults += [f"{name}: {fault}" for fault in outer_faults(text)]
    calendar = icalendar.Calendar.from_ical(text.decode())
    faults += [f"{name}: {error}" for error in calendar.errors]
    if str(calendar["VERSION"]) != "2.0" or "PRODID" not in calendar:
        faults.append(f"{name}: the calendar does not say what it is")
    events = [one for one in calendar.walk("VEVENT") if str(one.get("STATUS", "")) != "CANCELLED"]
    for event in events:
        faults += [f"{name}: {event.get('UID')}: {error}" for error in event.errors]
        faults += [f"{name}: {event.get('UID')} {fault}" for fault in event_faults(event)]
    names = collections.Counter(str(event["UID"]) for event in calendar.walk("VEVENT"))
    faults += [f"{name}: {one} stands {times} times" for one, times in names.items() if times > 1]
    doses = json.loads(asked(season, day, "json"))["doses"]
    wanted = collections.Counter((dose["bed"], dose["material"], dose["date"]) for dose in doses)
    found = collections.Counter()
    for event in events:
        title, told = str(event["SUMMARY"]), str(event["DESCRIPTION"])
        date = event.decoded("DTSTART").isoformat()
        # A bed may be named like the beginning of another: the longest that fits is meant.
        fits = [key for key in wanted if key[2] == date and title.startswith(f"{key[0]}: ")
                and f" {key[1]}" in title]
        if not fits:
            faults.append(f"{name}: no dose for {title!r} on {date}")
            continue
        found[max(fits, key=len)] += 1
        amount = title.split(": ", 1)[1].split(" ")[:2]
        if not amount[0].replace(".", "").isdigit() or not told.startswith(" ".join(amount)):
            faults.append(f"{name}: {title!r} is described as {told!r}")
    if found != wanted:
        faults.append(f"{name}: events {found - wanted} too many, {wanted - found} too few")
    return {str(event["UID"]): event.decoded("DTSTART") for event in events}


def main():
    """Compares all examples at two days of the year."""
    faults, count = [], 0
    for season in sorted((ROOT / "examples").glob("*/season.toml")):
        with open(season, encoding="utf-8") as file:
            year = next(line.split("=")[1].strip() for line in file if line.startswith("year"))
        first = checked(str(season), f"{year}-04-01", faults)
        later = checked(str(season), f"{year}-05-20", faults)
        if not set(later) <= set(first):
            faults.append(f"{season.parent.name}: new names later: {set(later) - set(first)}")
        count += len(first) + len(later)
    for fault in faults:
        print(fault)
    print(f"{count} events read: {len(faults)} faults")
    return 1 if faults or count < 50 else 0


if __name__ == "__main__":
    sys.exit(main())
