"""Lua: functions that choose and repeat."""
COMMENT = r"--[^\n]*"
HEAD = "trims = {}\n"
TAIL = ""


def part(dice, number):
    edge, steps, span = dice.randrange(8, 16), dice.randrange(2, 6), dice.randrange(40, 160) / 10
    return f"""
-- Trim number {number}: a main colour with fine inlays between two edges.
function trims.trim_{number}(main, edge, shades, span)
    span = span or {span}
    if #shades < 2 then error("a fade needs two shades") end
    band({edge}, edge)
    band(span / 3, main)        -- a third of the way
    for s = 2, #shades do
        fade(shades[s], {{ steps = {steps} }})
        band(span * 2 + {dice.randrange(1, 9)}, shades[s])
    end
    if #shades > {dice.randrange(2, 5)} then
        band({edge + 2}, edge)
        band(span / 2, shades[1])
    else
        for i = 1, {dice.randrange(2, 5)} do band({edge}, main) band(8, edge) end
    end
    band({edge}, edge)
end
"""
