"""Writing a table of computed rows, and comparing a fresh one with the committed one.

A row holds inputs first, then outputs; every cell is text, so that what is compared is what is kept. Run a
generator without arguments to write its table, with --check to compare.
"""

import argparse
import csv
import sys
from pathlib import Path

REFERENCE = Path(__file__).resolve().parent.parent


def cell(value, decimals):
    """A number with at most so many decimals and no idle zeros; nothing for None."""
    if value is None:
        return ""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def write_or_check(name, header, rows, tolerance):
    """Writes rows to reference/<name>, or with --check compares them with it; numbers may differ by `tolerance`.

    The tolerance must cover the last kept digit and what another version of the libraries may change."""
    parser = argparse.ArgumentParser(description=f"Makes reference/{name}.")
    parser.add_argument("--check", action="store_true", help="compare with the committed file instead of writing it")
    check = parser.parse_args().check
    path = REFERENCE / name
    if not check:
        with path.open("w", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows([header, *rows])
        print(f"{name}: {len(rows)} rows, {path.stat().st_size} bytes")
        return
    with path.open(newline="") as file:
        kept = list(csv.reader(file))
    if kept[0] != header or len(kept) - 1 != len(rows):
        sys.exit(f"{name}: another header or number of rows ({len(kept) - 1} kept, {len(rows)} made)")
    largest = 0.0
    for number, (old, new) in enumerate(zip(kept[1:], rows), start=2):
        for column, was, now in zip(header, old, new):
            if was == now:
                continue
            try:
                difference = abs(float(was) - float(now))
            except ValueError:
                sys.exit(f"{name}, line {number}, {column}: kept {was!r}, made {now!r}")
            largest = max(largest, difference)
            if difference > tolerance:
                sys.exit(f"{name}, line {number}, {column}: kept {was}, made {now}")
    print(f"{name}: {len(rows)} rows agree, largest difference {largest:.1e}")
