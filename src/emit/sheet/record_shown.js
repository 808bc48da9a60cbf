/* The record's dialog: what happened, what is to be run, lots of thread, and the record as a file. */
const record = find("#record"), recordFile = find("#record-file"), anew = find("#anew");

/* A word of a command line as a shell takes it. */
const shellWord = (word) => /^[\w@%+:,.\/=-]+$/.test(word) ? word : "'" + word.replaceAll("'", "'\\''") + "'";
/* A name that begins with a dash is no option. */
const pattern = body.dataset.file.replace(/^-/, "./-");
const nameOfFile = pattern.replace(/\.lay$/, "");
/* A name that no browser changes as it saves the file. */
const RECORD_NAME = (body.dataset.file.replace(/\.lay$/, "").replace(/[^\p{L}\p{N}._-]+/gu, "_").replace(/^[-._]+/, "") || "job") + ".record.json";
const command = (...words) => ["turnlay", "sheet", ...words, "-o", nameOfFile + ".html", pattern].map(shellWord).join(" ");
const measuredWord = (item) => item.step + "=" + (item.text || item.width + "mm") + (item.turns ? " after " + item.turns + " turns" : "") + (item.sure ? " sure" : "");

/* Where a step is counted on a sheet that all before it make, the command line can say all that happened. */
const isCountedInOrder = () => goesOn() && job.happened.length <= given.length + 1 && job.happened.every((item) => item.width);

function element(tag, words, name) {
    const made = document.createElement(tag);
    made.textContent = words;
    made.dir = "auto";
    if (name)
        made.className = name;
    return made;
}
function run(label, words) {
    const code = element("code", words, "command"), copy = element("button", "Copy");
    copy.type = "button";
    whenPressed(copy, async () => {
        getSelection().selectAllChildren(code);
        try { await navigator.clipboard.writeText(words); copy.textContent = "Copied"; } catch (refused) { copy.textContent = "Marked: copy it"; }
    });
    const block = document.createElement("div");
    block.append(element("p", label), code, copy);
    return block;
}
function runs() {
    const made = [];
    if (isCountedInOrder())
        made.push(run("On the machine that has turnlay and this file:", command(...job.happened.flatMap((item) => ["--measured", measuredWord(item)]))));
    made.push(run((made.length ? "Or with the record" : "Download the record, and run this") + ", which has lots and notes, too:", command("--record", RECORD_NAME)));
    return made;
}
/* Widths that the rest is to be planned by; none of them is asked about still. */
const isOff = (item) => {
    const at = item.place && locate(item.place)?.card, judged = at >= 0 && isMeasured(at) && judge(at, item);
    return !judged || !judged.isFar && !judged.isWithin;
};
function whyRun() {
    const rest = news();
    return !rest.length ? "Nothing need be run: this sheet has all that happened."
        : !goesOn() ? "This sheet was planned by other widths than this record has: plan it again."
        : rest.some(isOff) ? "Plan the rest again by what was measured, and open the new sheet: it begins where you stand."
        : "Nothing need be run: what was measured is within " + shownWidth(tolerance) + ". The next sheet will know it.";
}
function happenedWords(item) {
    const turns = item.turns ? ", " + item.turns + " turns" : "", way = item.way ? ", " + item.way : "";
    return "Step " + item.step + ": " + (item.width ? shownWidth(item.width) + turns + (item.sure ? ", sure" : "") : item.mishap + turns + way);
}
function happenedEntry(item, at) {
    return element("li", happenedWords(item) + (goesOn() && at < given.length ? ". This sheet goes by it." : ""));
}
function lotField(name, at) {
    const field = document.createElement("p"), label = element("label", name), input = document.createElement("input");
    field.className = "field";
    input.type = "text";
    input.maxLength = 200;
    input.autocomplete = "off";
    input.id = "lot-" + at;
    label.htmlFor = input.id;
    input.value = (job.lots.find((lot) => lot.thread === name) || { lot: "" }).lot;
    input.addEventListener("change", () => {
        const lot = input.value.trim();
        job.lots = job.lots.filter((other) => other.thread !== name).concat(lot ? [{ thread: name, lot }] : []);
        saveJob();
    });
    field.append(label, " ", input);
    return field;
}
function showRecord(words) {
    find("#run-why").textContent = whyRun();
    find("#runs").replaceChildren(...(news().length ? runs() : []));
    find("#happened-list").replaceChildren(...(job.happened.length ? job.happened.map(happenedEntry) : [element("li", "Nothing yet")]));
    find("#lots").replaceChildren(...all(".threads .name > bdi").map((name, at) => lotField(name.textContent, at)));
    find("#record-words").textContent = words;
}
function openRecord() {
    showRecord("It is kept in this browser. Download it to go on elsewhere, or to begin another rod with what it taught of the threads.");
    record.showModal();
    find(".shown", record).scrollTop = 0;
}
/* Nothing leaves the machine: the file is made here. */
function download() {
    const link = document.createElement("a"), address = URL.createObjectURL(new Blob([writeRecord()], { type: "application/json" }));
    link.href = address;
    link.download = RECORD_NAME;
    link.click();
    URL.revokeObjectURL(address);
    find("#record-words").textContent = RECORD_NAME + " was downloaded.";
}
recordFile.addEventListener("change", async () => {
    const [file] = recordFile.files;
    if (!file)
        return;
    const words = takeUp(await file.slice(0, MOST_BYTES + 1).arrayBuffer());
    recordFile.value = "";
    showRecord(words || "The record was taken up. You stand at step " + (isStep(cards[state.card]) ? numberOf(state.card) : 1) + ".");
});
whenPressed(find("#open-job"), () => { shut(list); openRecord(); });
whenPressed(find("#close-record"), () => shut(record));
whenPressed(find("#download"), download);
whenPressed(find("#open-record"), () => recordFile.click());
whenPressed(find("#begin-anew"), () => anew.showModal());
whenPressed(find("#keep-record"), () => shut(anew));
whenPressed(find("#forget-record"), () => {
    Object.assign(job, { happened: given.slice(), lots: [], notes: [], confirmed: job.confirmed });
    shut(anew);
    enter(0, 0, false);
    showRecord("A new record was begun.");
});
