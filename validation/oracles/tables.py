"""Writes a table of reference values, or compares it with the one in data/.

Values carry ten digits, or as many as their method is sure of. A comparison allows for two in the last one: another
release of a library, or another processor, may round an iteration differently.
"""
import csv
import math
import os
import sys

DATA = os.path.join(os.path.dirname(os.path.abspath(__file__)), 'data')
CHECK = '--check' in sys.argv[1:]


def same(a, b, digits):
    return a == b or abs(float(a) - float(b)) <= 2.01 * 10 ** (1 - digits) * max(abs(float(a)), abs(float(b)))


def table(name, head, rows, digits=10):
    """Writes data/name, or with --check ends the program with status 1 when the file says something else."""
    lines = [head] + [[format(x, f'.{digits}g') for x in row] for row in rows]
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
        if not all(same(a, b, digits) for a, b in zip(was, now)):
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
