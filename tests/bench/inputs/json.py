"""JSON: named things of numbers, lists within one another; it has no comments."""
COMMENT = r"(?!)"
HEAD = '{\n  "edition": 1'
TAIL = "\n}\n"


def part(dice, number):
    edge, steps, span = dice.randrange(8, 16), dice.randrange(2, 6), dice.randrange(40, 160) / 10
    return f""",
  "trim_{number}": {{
    "about": "a main colour with fine inlays between two edges",
    "main": "thread", "edge": "thread", "span": {span},
    "wound": [
      {{ "band": {edge}, "of": "edge" }},
      {{ "band": "span", "of": "main", "inlays": [{{ "turns": 2, "at": 0.333 }}, {{ "turns": 2, "at": 0.667 }}] }},
      {{ "fade": "shades", "steps": {steps}, "then": {{ "band": {dice.randrange(1, 9)}, "of": "shade" }} }},
      {{ "if": {dice.randrange(2, 5)}, "symmetric": [{{ "band": {edge + 2}, "of": "edge" }}, {{ "band": {span / 2}, "of": "first" }}],
        "else": {{ "repeat": {dice.randrange(2, 5)}, "wound": [{{ "band": {edge}, "of": "main" }}, {{ "band": 8, "of": "edge" }}] }} }},
      {{ "band": {edge}, "of": "edge" }}
    ]
  }}"""
