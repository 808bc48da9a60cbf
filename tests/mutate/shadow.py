"""Copies of the tree in which the program is built with one file changed: only what the change touches is built again."""
import hashlib
import os
import pathlib
import re
import shlex
import shutil
import subprocess

PARTS = ("Makefile", "src", "grammar", "stdlib", "tests", "examples")
BUILD = "build"


def copy_tree(root, to):
    shutil.rmtree(to, ignore_errors=True)
    to.mkdir(parents=True)
    for part in PARTS:
        source = root / part
        if source.is_dir():
            shutil.copytree(source, to / part, symlinks=True, ignore=shutil.ignore_patterns("node_modules", "__pycache__"))
        else:
            shutil.copy2(source, to / part)


def digest(root):
    """Of all that decides what the stages reach."""
    total = hashlib.sha256()
    for part in PARTS:
        for path in sorted([root / part] if (root / part).is_file() else (root / part).rglob("*")):
            if path.is_file() and not {"__pycache__", "node_modules", "mutate"} & set(path.relative_to(root).parts):
                total.update(f"{path.relative_to(root)}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()[:16]


def programs(root):
    """What make is asked for: all, the unit tests, and what other stages need."""
    return ["all", f"{BUILD}/draw_points", f"{BUILD}/many_pages", f"{BUILD}/varied", *(f"{BUILD}/tests/{path.stem}" for path in sorted(root.glob("tests/unit/test_*.c")))]


def make(tree, flags, wanted):
    done = subprocess.run(["make", "-j2", f"BUILD={BUILD}", *flags, *wanted], cwd=tree, capture_output=True, text=True)
    if done.returncode != 0:
        raise SystemExit(f"the tree does not build:\n{done.stderr[-3000:]}")


class Commands:
    """How everything is built, as make would say it: `compile` by object, `link` by program; `archive`, the commands that
    make the library one after the other, and `archived`, the objects that it is made of."""

    def __init__(self, tree, flags, wanted):
        said = subprocess.run(["make", "-n", "-B", f"BUILD={BUILD}", *flags, *wanted], cwd=tree, capture_output=True,
                              text=True, check=True).stdout
        self.compile, self.link, self.archive = {}, {}, []
        for line in re.sub(r"\\\n", " ", said).splitlines():
            words = shlex.split(line) if re.match(r"(\S*(cc|clang)\S*|(\S*-)?(ar|ld|objcopy)) ", line) else []
            if not words:
                continue
            if re.search(r"(^|[-/])(ar|ld|objcopy)$", words[0]):
                self.archive.append(words)
            elif "-o" in words:
                made = words[words.index("-o") + 1]
                (self.compile if "-c" in words else self.link)[made] = words
        self.needs = {program: [word for word in words if word.endswith((".o", ".a"))] for program, words in self.link.items()}
        self.archived = {word for words in self.archive for word in words if word.endswith(".o")}
        self.library = next((word for words in self.archive for word in words if word.endswith(".a")), None)

    def objects_of(self, tree, path):
        """Those whose dependencies, as the compiler wrote them, name the file."""
        found = []
        for made in self.compile:
            noted = (tree / made).with_suffix(".d")
            if noted.exists() and path in noted.read_text().replace("\\\n", " ").split():
                found.append(made)
        return found


class Shadow:
    """One copy with its own objects and programs; `whole` is the unchanged tree, built."""

    def __init__(self, whole, commands, folder):
        self.whole, self.commands, self.folder = whole, commands, folder
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(whole, folder, symlinks=True)
        self.changed, self.stale = [], set()

    def run(self, words):
        return subprocess.run(words, cwd=self.folder, capture_output=True, text=True)

    def change(self, path, text):
        """Compiles what the file is in. Gives None if the compiler refuses it, else whether any object differs."""
        (self.folder / path).write_text(text)
        self.changed = [path]
        objects = self.commands.objects_of(self.whole, path)
        differs = False
        for made in objects:
            self.changed.append(made)
            if self.run([*self.commands.compile[made], "-w"]).returncode != 0:
                return None
            differs |= (self.folder / made).read_bytes() != (self.whole / made).read_bytes()
        touched = set(objects)
        self.outdate(touched)
        return differs

    def outdate(self, touched):
        """What is linked with these objects has to be linked again."""
        if touched & self.commands.archived:
            self.stale.add("archive")
            touched = touched | {self.commands.library}
        self.stale |= {program for program, needs in self.commands.needs.items() if touched & set(needs)}

    def link(self, wanted):
        """Brings these programs up to date; False if one cannot be linked."""
        if "archive" in self.stale:
            self.stale.discard("archive")
            (self.folder / self.commands.library).unlink(missing_ok=True)
            for words in self.commands.archive:
                if self.run(words).returncode != 0:
                    return False
        for program in sorted(self.stale & set(wanted)):
            if self.run(self.commands.link[program]).returncode != 0:
                return False
            self.stale.discard(program)
        return True

    def restore(self):
        """The unchanged file and its objects; what was linked with them is old and is linked again when needed."""
        for path in self.changed:
            shutil.copy2(self.whole / path, self.folder / path)
        self.outdate(set(self.changed))
        self.changed = []
