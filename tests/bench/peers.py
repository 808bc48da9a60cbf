"""Front ends of other languages beside turnlay's, on like texts of 10 MB. Which of them are installed decides which rows
there are; none is needed."""
import shutil

import inputs
from checks import PROGRAM
from counting import count, measured
from front_end import READER, read_in_process

SIZE = 10_000_000
TIMES = 7
# What each reads, and how it is called. What it makes stays in the folder: tcc takes away what stands at its output's
# path before it writes, and would do so with /dev/null.
MADE = "made"
PEERS = {
    "tcc -c": ("c", ["tcc", "-c", "-o", MADE]),
    "tcc -E": ("c", ["tcc", "-E", "-o", MADE]),
    "luac -p": ("lua", ["luac", "-p"]),
    "php -l": ("php", ["php", "-n", "-d", "memory_limit=-1", "-l"]),
    "jq empty": ("json", ["jq", "empty"]),
}
WHOLE_CHECK = 1.5       # times the best peer's MB/s, start to finish
TEXT_TO_TREE = 2.5      # in-process, on text in memory


def write(folder):
    """{language: path}; prints how dense each text is."""
    paths = {}
    for language in inputs.LANGUAGES:
        paths[language] = folder / f"large.{language}"
        written = inputs.text(language, SIZE)
        paths[language].write_text(written)
        print(f"{paths[language].name}: {len(written):,} bytes, {inputs.bytes_a_token(language, written[:1_000_000]):.2f} bytes a token")
    return paths


def show(goals, paths):
    commands = {"turnlay check": [PROGRAM, "check", paths["lay"]]}
    for name, (language, command) in PEERS.items():
        if shutil.which(command[0]):
            made = paths[language].with_suffix(".made")
            commands[name] = [made if part == MADE else part for part in command] + [paths[language]]
        else:
            print(f"{name}: not installed, left out")
    best, reading = {}, []
    for _ in range(TIMES):
        for name, command in commands.items():
            best[name] = min(measured(1, *command)[0], best.get(name, float("inf")))
        if READER:
            reading.append(read_in_process(paths["lay"])["microseconds"])
    speed = {name: commands[name][-1].stat().st_size / best[name] for name in commands}
    for name, command in commands.items():
        goals.row(f"{name}: MB/s, best of {TIMES}", speed[name])
        goals.row(f"{name}: instructions a byte", count(*command) / command[-1].stat().st_size)
    peers = {name: speed[name] for name in commands if name in PEERS}
    if not peers:
        return
    first = max(peers, key=peers.get)
    goals.row(f"whole check: times the speed of {first}", speed["turnlay check"] / peers[first], least=WHOLE_CHECK)
    if reading:
        goals.row("text to tree, in-process: MB/s", paths["lay"].stat().st_size / min(reading))
        goals.row(f"text to tree, in-process: times the speed of {first}", paths["lay"].stat().st_size / min(reading) / peers[first], least=TEXT_TO_TREE)
