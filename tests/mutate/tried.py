"""What came of the mutants of a round that was stopped: begun again on the same tree with the same seed it goes on from there."""
import hashlib
import json


class Tried:
    """A line of a file for each: its number among those drawn, the verdict, and by which stages. of: all that decides what is drawn and tried."""

    def __init__(self, folder, tree, of):
        for old in folder.glob("tried-*"):
            if not old.name.startswith(f"tried-{tree}-"):
                old.unlink()
        self.file = folder / f"tried-{tree}-{hashlib.sha256(repr(of).encode()).hexdigest()[:8]}"
        self.known = {}
        if self.file.exists():
            for line in self.file.read_text(encoding="utf-8").splitlines():
                try:
                    number, verdict, by = json.loads(line)
                    self.known[number] = verdict, by
                except ValueError:            # the round was stopped while it wrote this
                    pass

    def note(self, number, verdict, by):
        with self.file.open("a", encoding="utf-8") as file:
            file.write(json.dumps([number, verdict, by]) + "\n")
