#!/usr/bin/python3
"""Runs a command and answers with its exit code.
  timed.py FILE COMMAND...   leaves in FILE its seconds by the clock and of processors: those of all that it started, too,
                             which a browser's processes have been left by when it ends"""
import ctypes
import os
import pathlib
import resource
import signal
import subprocess
import sys
import time

PR_SET_CHILD_SUBREAPER = 36     # linux/prctl.h: whoever has lost its parent becomes a child of ours


def children():
    return [int(child) for child in pathlib.Path(f"/proc/self/task/{os.getpid()}/children").read_text().split()]


def end_others():
    """What a command leaves behind when it ends is not waited for."""
    while left := children():
        for child in left:
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)


def main():
    file, *command = sys.argv[1:]
    ctypes.CDLL(None).prctl(PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0)
    begun = time.monotonic()
    code = subprocess.run(command, stdin=subprocess.DEVNULL).returncode
    end_others()
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    pathlib.Path(file).write_text(f"{time.monotonic() - begun:.1f} {used.ru_utime + used.ru_stime:.1f}\n")
    sys.exit(code if code >= 0 else 128 - code)


if __name__ == "__main__":
    main()
