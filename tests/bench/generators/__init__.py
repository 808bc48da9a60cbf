"""Every construct, by its name."""
from generators import control, crosswraps, findings, materials, names, likes, parts, places, wraps
from generators.construct import CONSTRUCTS, bare, setting
