"""Instructions as valgrind counts them, so that the numbers hold on any day and on any machine of one kind; and time and
memory of whole runs."""
import os
import pathlib
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import BUILD, ROOT

MEASURE = str((ROOT / BUILD / "measure").resolve())
COUNT_PAGES = str((ROOT / BUILD / "count_pages").resolve())
COUNTER = ["valgrind", "--tool=cachegrind", "--cache-sim=no", "--cachegrind-out-file=/dev/null"]


# Each byte of `rep stosb`, by which the C library clears and copies memory, counts as an instruction: whether some kB come
# fresh from the system would then weigh more than what is looked for.
STEADY = {**os.environ, "GLIBC_TUNABLES": "glibc.cpu.x86_rep_stosb_threshold=1000000000:glibc.cpu.x86_rep_movsb_threshold=1000000000"}


def run(command, codes=(0, 1), environment=None):
    done = subprocess.run([*map(str, command)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment)
    if done.returncode not in codes:
        sys.exit(f"{command}: exit code {done.returncode}\n{done.stderr[-2000:].decode(errors='replace')}")
    return done.stdout.decode(errors="replace"), done.stderr.decode(errors="replace")


def totals_of(log):
    """Of each process of the run, in the order in which they ended."""
    return [int(count.replace(",", "")) for count in re.findall(r"^==\d+== I +refs: +([\d,]+)$", log, re.M)]


def count(*command):
    """Instructions of a run; of one that forks, those of the process that goes on."""
    return max(totals_of(run([*COUNTER, *command])[1]))


def count_function(folder, function, *command):
    """Instructions of a run, and those spent in the function and all it calls."""
    out = pathlib.Path(folder) / "callgrind.out"
    _, log = run(["valgrind", "--tool=callgrind", f"--callgrind-out-file={out}", *command])
    table, _ = run(["callgrind_annotate", "--inclusive=yes", "--threshold=100", out])
    row = re.search(rf"^\s*([\d,]+) .*:{function}( |$)", table, re.M)
    if not row:
        sys.exit(f"callgrind saw no {function}")
    return int(re.search(r"Collected : (\d+)", log)[1]), int(row[1].replace(",", ""))


def count_parts(once, files):
    """{file: {part: instructions}}: the part "compile" (or "compile with errors"), and pages; see count_pages.c."""
    out, log = run([*COUNTER, COUNT_PAGES, *once, "--", *files], codes=(0,), environment=STEADY)
    totals, rows = totals_of(log), [line.split("\t") for line in out.splitlines()[1:]]
    # The process that forks all others spends the same on each file; what it has spent by then theirs begins with.
    start, each = totals[0], (totals[len(rows) - 1] - totals[0]) // len(files)
    counts, pages = {}, {}
    for (path, part), total in zip(rows[1:-1], totals[1:]):
        if not part.startswith("compile"):
            pages[part] = total
            continue
        counts[path] = {part: total - start - each * len(counts), **{page: pages[page] - total for page in pages}}
        pages = {}
    return counts


def measured(times, *command):
    """Of so many runs the best, in microseconds by the clock, and the most memory resident, in kB."""
    best, _, resident = run([MEASURE, times, *command])[0].split()
    return float(best), int(resident)
