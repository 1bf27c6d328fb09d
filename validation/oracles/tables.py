"""Writes a table of reference values, or compares it with the one in data/.

Values carry ten digits. A comparison allows for 1e-8 of a value: another release of a library, or another
processor, may round an iteration differently, but nothing that matters here moves by that much.
"""
import csv
import math
import os
import sys

DATA = os.path.join(os.path.dirname(os.path.abspath(__file__)), 'data')
CHECK = '--check' in sys.argv[1:]
SAME = 1e-8


def text(x):
    return x if isinstance(x, str) else format(x, '.10g')


def same(a, b):
    if a == b:
        return True
    try:
        a, b = float(a), float(b)
    except ValueError:
        return False
    return abs(a - b) <= SAME * max(abs(a), abs(b))


def table(name, head, rows):
    """Writes data/name, or with --check ends the program with status 1 when the file says something else."""
    lines = [head] + [[text(x) for x in row] for row in rows]
    for line in lines[1:]:
        for x in line:
            if x in ('nan', 'inf', '-inf'):
                sys.exit(f'{name}: {line} is no reference value')
    path = os.path.join(DATA, name)
    if not CHECK:
        with open(path, 'w', newline='') as f:
            csv.writer(f, lineterminator='\n').writerows(lines)
        print(f'{name}: {len(lines) - 1} rows written')
        return
    with open(path, newline='') as f:
        kept = list(csv.reader(f))
    if len(kept) != len(lines) or kept[0] != head:
        sys.exit(f'{name}: {len(kept) - 1} rows are kept, {len(lines) - 1} are calculated; write the tables again')
    for was, now in zip(kept[1:], lines[1:]):
        if not all(same(a, b) for a, b in zip(was, now)):
            sys.exit(f'{name}: kept {was}, calculated {now}')
    print(f'{name}: {len(lines) - 1} rows agree')


def need(*modules):
    """Ends the program with status 0 and a sentence when a module is missing."""
    for m in modules:
        try:
            __import__(m)
        except ImportError:
            print(f'{os.path.basename(sys.argv[0])}: not run, the Python module {m} is missing')
            sys.exit(0)


def span(low, high, n):
    """n values from low to high, evenly spaced."""
    return [low + (high - low) * i / (n - 1) for i in range(n)]


def logspan(low, high, n):
    """n values from low to high, in even ratios."""
    return [math.exp(x) for x in span(math.log(low), math.log(high), n)]
