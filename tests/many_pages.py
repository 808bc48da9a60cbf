"""Many pages of one file by the program that compiles it once (tests/golden/many_pages.c)."""
import os
import pathlib
import socket
import subprocess

from checks import PROGRAM, ROOT, Answer

MANY = pathlib.Path(PROGRAM).with_name("many_pages")
# Options that a compilation goes by; in a command line they stand last.
COMPILED_WITH = ("--measured", "--mishap", "--swap", "--record", "--learned", "--strict", "-I")
SECONDS = 600              # by the clock, that a page may take


def compiled_with(page):
    """What of a page's command line other pages must have, too, to be made of the same compilation."""
    first = next((at for at, word in enumerate(page) if word in COMPILED_WITH), len(page))
    return page[first:]


class ManyPages:
    """Of the file with that path, or of the text if the path is `-`. Pages of one compilation are best asked for one after another."""

    def __init__(self, path, text=b""):
        self.path, self.process = path, None
        self.text, self.out, self.err = (os.memfd_create(name) for name in ("text", "out", "err"))
        os.write(self.text, text)

    def __enter__(self):
        return self

    def __exit__(self, fault, *_):
        if fault and self.process:    # as when it takes too long
            self.process.kill()
        self.end()
        for file in (self.text, self.out, self.err):
            os.close(file)

    def begin(self):
        ours, theirs = socket.socketpair()
        with theirs:
            self.process = subprocess.Popen([MANY, str(theirs.fileno())], pass_fds=[theirs.fileno()], cwd=ROOT, stdin=self.text,
                                            stdout=self.out, stderr=self.err)
        ours.settimeout(SECONDS)
        self.socket, self.answers, self.compiled_with = ours, ours.makefile("r"), None

    def end(self):
        """Its exit code; it ends when nobody can ask any more."""
        if not self.process:
            return 0
        self.answers.close()
        self.socket.close()
        code, self.process = self.process.wait(), None
        return code

    def make(self, page):
        """The Answer to a verb and its options, as on the command line. What is said while the file is compiled is of the first page."""
        if not self.process:
            self.begin()
        if compiled_with(page) != self.compiled_with:
            self.socket.sendall(b"\n")
            self.compiled_with = compiled_with(page)
        begin = [end_of(file) for file in (self.out, self.err)]
        self.socket.sendall("\t".join(["turnlay", *page, self.path]).encode() + b"\n")
        answer = self.answers.readline().split()
        if answer:
            code, *ends = map(int, answer)
        else:                         # it died of the file, and is begun again for the next page
            code, ends = self.end(), [end_of(file) for file in (self.out, self.err)]
        return Answer(code, *(os.pread(file, to - at, at) for file, at, to in zip((self.out, self.err), begin, ends)))


def end_of(file):
    return os.lseek(file, 0, os.SEEK_CUR)
