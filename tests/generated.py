"""Programs that tests/fuzz/generate.py writes."""
import re
import subprocess

from checks import ROOT


def programs(seeds):
    """Of all seeds by one call; each begins with its edition."""
    written = subprocess.run([ROOT / "tests/fuzz/generate.py", *map(str, seeds)], capture_output=True, check=True).stdout
    made = re.split(b"^(?=edition )", written, flags=re.M)[1:]
    assert len(made) == len(seeds), f"{len(made)} programs of {len(seeds)} seeds"
    return made
