/* The record of the job, kept in the browser for all sheets of this file, however they are planned again: what happened,
   in order, lots of thread, notes, where one stood last. */
const JOB = "turnlay-job-" + body.dataset.pattern;
const job = { happened: [], lots: [], notes: [], stands: null, on: "", confirmed: "", cameOff: false };
const saveJob = () => save(JOB, { ...job, cameOff: undefined });

/* What this sheet was planned with already. */
const readings = find("#readings");
const given = readings ? JSON.parse(readings.dataset.happened).happened : [];
/* A sheet has lengths to 0.000001 mm. */
const isSame = (one, other) => one.step === other.step && Math.abs((one.width || 0) - (other.width || 0)) < 2e-6
    && (one.turns || 0) === (other.turns || 0) && one.mishap === other.mishap && one.way === other.way && !one.sure === !other.sure;
/* Whether the record begins with what this sheet was planned with; then the rest is news to it. */
const goesOn = () => given.every((item, at) => job.happened[at] && isSame(item, job.happened[at]));
const news = () => goesOn() ? job.happened.slice(given.length) : job.happened;

function recallJob() {
    const saved = readSaved(JOB), isOf = (list, fits) => Array.isArray(list) && list.every((item) => item && typeof item === "object" && fits(item));
    if (isOf(saved.happened, (item) => !happenedFault(forFile(item))))
        job.happened = saved.happened;
    if (isOf(saved.lots, (item) => !lotFault(item)))
        job.lots = saved.lots;
    if (isOf(saved.notes, (item) => !noteFault({ step: 1, text: item.text, ...(item.date && { date: item.date }) })))
        job.notes = saved.notes;
    for (const name of ["on", "confirmed"])
        job[name] = typeof saved[name] === "string" ? saved[name] : "";
    job.stands = saved.stands && typeof saved.stands === "object" ? saved.stands : null;
    job.cameOff = given.some((item, at) => item.mishap && !(job.happened[at] && isSame(item, job.happened[at])));
    /* A sheet that was planned with more, or with other widths, than are known here has the last word. */
    if (!goesOn() && (job.on !== body.dataset.key || job.happened.every((item, at) => given[at] && isSame(item, given[at]))))
        job.happened = given.map((item, at) => job.happened[at] && isSame(item, job.happened[at]) ? job.happened[at] : item);
}
/* Another sheet of the job was in use last: where one stood there, on this one. Where turns had to come off since, the
   sheet knows better. */
function movedPlace() {
    return !job.cameOff && job.on && job.on !== body.dataset.key ? locate(job.stands) : null;
}
/* Turns that were counted otherwise than this sheet says, in the layer up to that card: the next sheet has them. */
function countedMore(at) {
    const earlier = isStep(cards[at]) ? layerOf(cards[at]).measured.filter((other) => other < at) : [];
    return earlier.reduce((sum, other) => sum + ((itemOf(other)?.turns ?? dataOf(other).band) - dataOf(other).band), 0);
}
function keepStand() {
    const stands = placeOf(state.card, state.turns);
    if (stands.begin)
        stands.begin += countedMore(state.card);
    Object.assign(job, { on: body.dataset.key, stands });
    saveJob();
}

/* --- widths --- */

const isMeasured = (at) => isStep(cards[at]) && find(".write", cards[at]);
const itemOf = (at) => news().find((item) => item.place && locate(item.place)?.card === at);
const dataOf = (at) => Object.fromEntries(Object.entries(find(".expected", cards[at]).dataset).map(([name, value]) => [name, Number(value)]));

/* What lies between the layer's beginning and the width measured there, thread by thread, as it was counted. */
function madeUpTo(at) {
    const made = new Map(), measured = layerOf(cards[at]).measured.filter((other) => other <= at);
    let gaps = 0;
    for (const other of measured) {
        const { turns } = itemOf(other) || {}, { band, gaps: between } = dataOf(other);
        gaps += between;
        const add = (thread, nominal, count) => {
            const row = made.get(thread) || { thread, nominal_turn: nominal, turns: 0 };
            made.set(thread, { ...row, turns: row.turns + count });
        };
        all(".made-of", cards[other]).forEach(({ dataset }) => add(dataset.thread, Number(dataset.nominal), Number(dataset.count)));
        all(".band-of", cards[other]).forEach(({ dataset }) => add(dataset.thread, NaN, turns ? turns - band : 0));
    }
    return { made: Array.from(made.values()).filter((row) => row.turns > 0), gaps, wrap: Number(layerOf(cards[at]).part.dataset.wrap) };
}
/* In the order of the work; nothing where `reading` is null. */
function setWidth(at, reading) {
    const others = news().filter((item) => item !== itemOf(at)), placed = (item) => locate(item.place)?.card ?? -1;
    if (reading) {
        const item = { step: numberOf(at), sheet: given.length, ...reading, place: placeOf(at, 0) }, next = others.findIndex((other) => placed(other) > at);
        others.splice(next < 0 ? others.length : next, 0, item);
    }
    job.happened = (goesOn() ? job.happened.slice(0, given.length) : []).concat(others);
    if (reading)
        Object.assign(itemOf(at), madeUpTo(at));
    saveJob();
}
