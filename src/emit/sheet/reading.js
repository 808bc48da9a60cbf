/* A width as it is typed, read as the command line reads --measured: "9.4", "9.4 mm", "1 3/8 in", "25/32", "1' 2 1/2\"",
   with "after 61 turns" or "sure" behind it. Without a unit it is in that of the sheet's widths. */
const UNITS = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8, yd: 914.4, "\"": 25.4, "'": 304.8 };
const MOST_MM = 9999999, MOST_TURNS = 2 ** 31 - 1;
const LENGTH = /^(\d+\.\d+|\d+[ -]\d+\/\d+|\d+\/\d+|\d+) *((?!after|sure)[a-z]+|["'])? */;
const unitOfWidths = body.dataset.unit;

function numberIn(words) {
    const [whole, above, below] = words.match(/^(?:(\d+)[ -])?(\d+)\/(\d+)$/)?.slice(1) || [words, "0", "1"];
    return Number(below) ? Number(whole || 0) + Number(above) / Number(below) : 0;
}
/* { width in mm, text with its unit, turns, sure }, the last two only where they are said; null where it is no width. */
function readWidth(typed) {
    let rest = typed.trim().replace(/(\d),(\d)/, "$1.$2"), width = 0, text = "", before = "";
    while (!before || /^\d/.test(rest)) {
        const part = rest.match(LENGTH), number = part ? numberIn(part[1]) : 0, unit = part && (part[2] || (before ? "" : unitOfWidths));
        if (!number || !Object.hasOwn(UNITS, unit) || before && !(UNITS[before] === UNITS.ft && UNITS[unit] === UNITS.in))
            return null;
        width += number * UNITS[unit];
        text += (text && " ") + part[1] + unit;
        before = unit;
        rest = rest.slice(part[0].length);
    }
    const behind = rest.match(/^(?:after *(\d+) *turns? *)?(sure *)?$/), turns = behind && Number(behind[1]);
    if (!behind || !(width > 0 && width <= MOST_MM) || behind[1] && !(turns > 0 && turns < MOST_TURNS))
        return null;
    return { width, text, ...(behind[1] && { turns }), ...(behind[2] && { sure: true }) };
}
/* mm as callipers show them: "44.8 mm", "0.352 in". */
const calliper = Number(body.dataset.step);
function shownWidth(mm) {
    const digits = unitOfWidths === "in" ? 3 : Math.max(0, Math.ceil(-Math.log10(calliper / UNITS[unitOfWidths]) - 1e-9));
    return (mm / UNITS[unitOfWidths]).toFixed(digits) + "\u00a0" + unitOfWidths;
}
const asRead = (mm) => Math.round(mm / calliper) * calliper;
