/* The record as a file: grammar/record.schema.json says what may stand in it. What another phone or anybody else wrote is
   looked at whole before any of it is taken up; its texts are shown, never run. */
const MOST_BYTES = 1 << 20, MOST_ITEMS = 4096, LEAST_MM = 1e-6, LINE = 200, NOTE = 1000;
/* Each gives what is wrong, a few words, "" for nothing. */
const unless = (fits, words) => (value) => fits(value) ? "" : words;
const wholeFault = (least) => unless((value) => Number.isInteger(value) && value >= least && value <= MOST_TURNS, "is no whole number from " + least + " on");
const lengthFault = (least) => unless((value) => typeof value === "number" && value >= least && value <= MOST_MM, "is no length in mm");
const textFault = (least, most) => unless((value) => typeof value === "string" && Array.from(value).length >= least && Array.from(value).length <= most,
    "is no text of up to " + most + " characters");
const choiceFault = (...values) => unless((value) => values.includes(value), "is none of " + values.join(", "));
const listFault = (fault, most = MOST_ITEMS) => (value) => {
    if (!Array.isArray(value) || value.length > most)
        return "is no list of up to " + most;
    const faults = value.map((item, at) => [at, fault(item)]).find(([, words]) => words);
    return faults ? (faults[0] + 1) + " " + faults[1] : "";
};
const membersFault = (needed, allowed) => (value) => {
    if (!value || typeof value !== "object" || Array.isArray(value))
        return "is no list of named values";
    const known = { ...needed, ...allowed }, strange = Object.keys(value).find((name) => !Object.hasOwn(known, name));
    const missing = Object.keys(needed).find((name) => !Object.hasOwn(value, name));
    if (strange !== undefined || missing)
        return missing && strange === undefined ? "has no " + missing : "has something unknown in it: " + strange.slice(0, 40);
    const faults = Object.keys(value).map((name) => [name, known[name](value[name])]).find(([, words]) => words);
    return faults ? faults.join(" ") : "";
};
const stepFault = wholeFault(1), lineFault = textFault(0, LINE);
const madeFault = listFault(membersFault({ thread: lineFault, nominal_turn: lengthFault(LEAST_MM), turns: wholeFault(1) }), 256);
const sheetFault = unless((value) => Number.isInteger(value) && value >= 0 && value <= MOST_ITEMS, "is no sheet");
const widthMembers = membersFault({ step: stepFault, width: lengthFault(LEAST_MM) }, {
    turns: wholeFault(0), sure: unless((value) => typeof value === "boolean", "is neither true nor false"), made: madeFault,
    gaps: lengthFault(0), wrap: wholeFault(1), sheet: sheetFault
});
const widthFault = (item) => widthMembers(item) || (item.made && !item.wrap ? "has no wrap" : "");
const mishapFault = membersFault({ step: stepFault, mishap: choiceFault("broke", "unwound", "loop torn", "tag out", "spool empty") }, {
    turns: wholeFault(0), way: choiceFault("splice", "restart"), sheet: sheetFault
});
const happenedFault = (item) => item && Object.hasOwn(item, "mishap") ? mishapFault(item) : widthFault(item);
const lotFault = membersFault({ thread: lineFault, lot: lineFault });
const noteFault = membersFault({ step: stepFault, text: textFault(0, NOTE) }, { date: lineFault });
const rowsFault = listFault((row) => Array.isArray(row) && row.length === 2 && row.every((end) => !stepFault(end)) ? "" : "is no row of steps");
const recordFault = membersFault({ turnlay: choiceFault("record 1"), pattern: unless((id) => typeof id === "string" && /^[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}$/.test(id), "is no file id") }, {
    title: lineFault, at: stepFault, done: rowsFault, happened: listFault(happenedFault),
    lots: listFault(lotFault), notes: listFault(noteFault), sheet: sheetFault
});

/* Whether some list of named values has a name twice: of these JSON.parse keeps the last. */
function hasNameTwice(words) {
    const open = [];
    for (const [token, name] of words.matchAll(/("(?:[^"\\]|\\.)*")\s*:|"(?:[^"\\]|\\.)*"|[{}]/g)) {
        if (token === "{")
            open.push(new Set());
        else if (token === "}")
            open.pop();
        else if (name && open.at(-1).has(JSON.parse(name)))
            return true;
        else if (name)
            open.at(-1).add(JSON.parse(name));
    }
    return false;
}
/* What of an item goes into the file: not what only this page needs. */
const forFile = ({ place, text: typed, ...item }) => item;
/* Its sheet goes without saying where it is the one that all before it make. */
const fileItem = ({ sheet, ...item }, at) => ({ ...forFile(item), ...(sheet !== undefined && sheet !== at && { sheet }) });

function writeRecord() {
    const number = stepsBefore(state.card) + 1;
    const notes = job.notes.map(({ place, step: told, text: words, date }) => {
        const found = locate(place);
        return { step: found && isStep(cards[found.card]) ? numberOf(found.card) : told || number, text: words, ...(date && { date }) };
    });
    const isBehind = job.happened.length > given.length;
    return JSON.stringify({
        turnlay: "record 1", pattern: body.dataset.pattern, title: find("h1").textContent.slice(0, 200), at: number,
        ...(isBehind && { sheet: given.length }), done: number > 1 ? [[1, number - 1]] : [], happened: job.happened.map(fileItem), lots: job.lots, notes
    }, null, 2) + "\n";
}
/* What is wrong with the file, in words; "" where it was taken up. */
function takeUp(bytes) {
    let record = null, isTwice = false;
    if (bytes.byteLength > MOST_BYTES)
        return "This file is larger than any record. Open the file that was downloaded here.";
    try {
        const words = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
        record = JSON.parse(words);
        isTwice = hasNameTwice(words);
    } catch (spoilt) { /* said below */ }
    const fault = record === null ? "is not written as one" : recordFault(record) || (isTwice ? "has a name twice" : "");
    if (fault)
        return "This is no record of a job: it " + fault + ". Open the file that was downloaded here.";
    if (record.pattern !== body.dataset.pattern)
        return "This record is of another file, " + record.pattern + (record.title ? ", " + record.title : "") + "; this sheet is of "
            + body.dataset.pattern + ". Open it on a sheet of its own file.";
    takeRecord(record);
    return "";
}
function takeRecord({ happened = [], lots = [], notes = [], at, sheet = happened.length }) {
    const isHere = sheet === given.length;
    const placed = (number) => isHere && cardOfStep(number) >= 0 ? { place: placeOf(cardOfStep(number), 0) } : {};
    Object.assign(job, {
        happened: happened.map((item, nth) => item.width && (item.sheet ?? nth) === given.length && nth >= given.length ? { ...item, ...placed(item.step) } : item),
        lots, notes: notes.filter((note) => note.text).map((note) => ({ ...note, ...placed(note.step) }))
    });
    if (isHere && goesOn() && at)
        enter(cardAt(at), 0, false);
    else
        showCard(leaves.first[leaves.present]);
    keepStand();
}
