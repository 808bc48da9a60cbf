// What the page keeps of the job: measured widths, what is to be run by them, lots, notes, and the same place on a sheet that
// was planned again. What it says is held against what the program does with the same.
import assert from "node:assert/strict";
import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { Bench, folder, phone, tablet, test } from "./bench.mjs";

const turnlay = folder + "/../turnlay", patterns = "examples";
const sheetOf = (name, ...options) => JSON.parse(execFileSync(turnlay, ["sheet", "--format", "json", "-I", patterns, ...options, patterns + "/" + name + ".lay"],
    { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 }));
const writePage = (name, as, ...options) => execFileSync(turnlay, ["sheet", "-I", patterns, ...options, "-o", folder + "/" + as + ".html", patterns + "/" + name + ".lay"], { stdio: "ignore" });
const stepsOf = (sheet) => sheet.rods.flatMap((rod, at) => rod.sections.flatMap((section) => section.parts.flatMap((part) =>
    part.steps.map((step) => ({ ...step, rod: at, place: part.place, layer: part.layer })))));
const measuringOf = (step) => step.actions.find((action) => action.kind === "measure");
const allAtOnce = { apart: "0", batch: "0" };

// To where a step's width is asked for.
async function toWidth(bench, number) {
    await bench.goTo("r1s" + number);
    for (let presses = 0; presses < 40 && !(await bench.page.isVisible("#measured")); presses++)
        await bench.press("PageDown");
}
async function writeWidth(bench, words) {
    await bench.page.fill("#measured", words);
    await bench.page.press("#measured", "Enter");
}
const kept = (bench) => bench.evaluate(() => JSON.parse(localStorage.getItem("turnlay-job-" + document.body.dataset.pattern)) || { happened: [], lots: [], notes: [] });
const counted = (bench) => bench.evaluate(() => JSON.parse(localStorage.getItem("turnlay-sheet-" + document.body.dataset.key)).turns);
const closeHow = async (bench) => await bench.page.isVisible("#how") && bench.page.click("#close-how");
async function openRecord(bench) {
    await bench.page.click("#open-list");
    await bench.page.click("#open-job");
}
async function download(bench) {
    const [file] = await Promise.all([bench.page.waitForEvent("download"), bench.page.click("#download")]);
    return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
}

test("every width that the sheet asks for has its field when its turns are made, and there alone", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    const asked = stepsOf(sheetOf("harbour")).filter((step) => step.measure).map((step) => "r1s" + step.number);
    assert.ok(asked.length > 15);
    const seen = new Map();
    for (let presses = 0; presses < 2000 && (await bench.place()) !== "end"; presses++) {
        const [id] = (await bench.place()).split(" "), isThere = await bench.page.isVisible("#measured");
        if (isThere)
            assert.ok(!seen.has(id) && /Next (step|action)|Done/.test(await bench.page.textContent("#go")), id);
        if (isThere)
            seen.set(id, true);
        await bench.press("PageDown");
    }
    assert.deepEqual(Array.from(seen.keys()), asked);
    await bench.close();
});

test("a width is read as the command line reads it", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    await toWidth(bench, 5);
    const read = ["44.8", "44,8", " 44.8mm", "44.80 mm", "4.48cm", "0.0448 m", "1 3/4 in", "1-3/4in", "1 3/4\"", "1.75in", "0.147ft", "0.049yd", "44.8 after 299 turns", "44.8mm after 301 turn",
        "49 sure", "49mm sure", "45 after 302 turns sure", "112/64in", "44"];
    for (const words of read) {
        await writeWidth(bench, words);
        const [{ width, turns, sure } = {}] = (await kept(bench)).happened;
        const given = words.trim().replace(",", ".").replace(/^([\d.]+)(?= |$)(?! *(mm|cm|m|in|ft|yd|\d))/, "$1mm");
        const [happened] = sheetOf("harbour", "--measured", "5=" + given).happened;
        assert.ok(Math.abs(width - happened.width) < 1e-6, words);
        assert.deepEqual([turns, sure], [happened.turns, happened.sure], words);
        await closeHow(bench);
    }
    for (const words of ["x", "-44.8", "44.8 furlongs", "44.8 mm 3", "44.", ".8", "0", "44.8 after turns", "44.8 after 0 turns", "44.8 after 99999999999 turns", "44.8 surely", "4/0", "1e3", "44.8mm2",
        "20000 m", "44.8 in 3 ft", "constructor", "44.8 toString", "44.8 mm after", "44.8sure sure"]) {
        await writeWidth(bench, words);
        assert.equal(await bench.page.textContent("#how-heading"), "No width", words);
        assert.deepEqual((await kept(bench)).happened, [], words);
        const command = spawnSync(turnlay, ["sheet", "-I", patterns, "--measured", "5=" + (/^[\d.]+$/.test(words) ? words + "mm" : words), patterns + "/harbour.lay"]);
        assert.equal(command.status, 2, words);
        await closeHow(bench);
    }
    await bench.close();
});

test("what a width is to the one that should be there is said as the program finds it", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    const sheet = sheetOf("harbour"), tolerance = 0.5;
    for (const number of stepsOf(sheet).filter((step) => step.measure).map((step) => step.number).filter((_, at) => at % 6 === 0)) {
        await toWidth(bench, number);
        const planned = measuringOf(stepsOf(sheet)[number - 1]).width_mm, shown = Math.round(planned * 10) / 10;
        for (const off of [-6, -2, -1.5, -1, -0.6, -0.5, 0, 0.3, 0.5, 0.6, 0.9, 1.2, 1.6, 2, 3, 6]) {
            const width = (shown + off).toFixed(1);
            if (!(Number(width) > 0))
                continue;
            await writeWidth(bench, width);
            const isOpen = await bench.page.isVisible("#how"), words = isOpen ? await bench.page.textContent("#how-words") : "";
            const command = spawnSync(turnlay, ["sheet", "-I", patterns, "--measured", number + "=" + width + "mm", patterns + "/harbour.lay"]);
            const asks = /T320/.test(command.stderr), what = number + " " + width + ": " + words;
            assert.equal(isOpen, Math.abs(off) > tolerance + 1e-6 || asks, what);
            assert.equal(/Miscounted|slip/.test(words), asks, what);
            if (isOpen && !asks)
                assert.equal(/Pack the turns and measure again/.test(words), off > 0, what);
            if (off && !asks)
                assert.match(await bench.page.textContent("#how-it-is"), new RegExp("^" + Math.abs(off).toFixed(1) + ".mm " + (off > 0 ? "wider" : "narrower")));
            await closeHow(bench);
        }
        await writeWidth(bench, "");
        assert.deepEqual((await kept(bench)).happened, []);
    }
    await bench.close();
});

test("a width that is far off holds when it is said to be so, or with other turns; what is a slip does not", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    await toWidth(bench, 5);
    await writeWidth(bench, "49");
    assert.match(await bench.page.textContent("#how-words"), /as much as 28 turns/);
    assert.ok(!(await bench.page.isVisible("#plan-again")));
    await bench.picture("far");
    await bench.page.click("#it-is-so");
    assert.ok(await bench.page.isVisible("#plan-again") && !(await bench.page.isVisible("#it-is-so")));
    assert.equal((await kept(bench)).happened[0].sure, true);
    await bench.page.click("#close-how");
    await writeWidth(bench, "49.0");
    assert.equal((await kept(bench)).happened[0].sure, undefined);
    await bench.page.fill("#band-turns", "328");
    await bench.page.press("#band-turns", "Enter");
    assert.match(await bench.page.textContent("#how-words"), /^It should be 49.0.mm: this is as it should be/);
    const [item] = (await kept(bench)).happened;
    assert.deepEqual([item.turns, item.sure, item.made[0].turns], [328, undefined, 328]);
    await bench.page.fill("#band-turns", "none");
    await bench.page.press("#band-turns", "Enter");
    assert.equal((await kept(bench)).happened[0].turns, 328);
    await bench.page.click("#close-how");
    await writeWidth(bench, "12");
    assert.match(await bench.page.textContent("#how-words"), /taken for a slip/);
    assert.ok(!(await bench.page.isVisible("#it-is-so")) && !(await bench.page.isVisible("#plan-again")));
    await bench.close();
});

test("keys write in the field; a pedal leaves it, and goes on where nothing is to be said", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    await toWidth(bench, 5);
    const before = await bench.place();
    await bench.page.click("#measured");
    await bench.page.keyboard.type("44.8 mm");
    await bench.press("ArrowLeft");
    assert.equal(await bench.page.inputValue("#measured"), "44.8 mm");
    assert.equal(await bench.place(), before);
    await bench.press("PageDown");
    assert.notEqual(await bench.place(), before);
    assert.equal((await kept(bench)).happened[0].width, 44.8);
    await toWidth(bench, 6);
    await bench.page.click("#measured");
    await bench.page.keyboard.type("53.5");
    await bench.press("PageDown");
    assert.ok(await bench.page.isVisible("#how"));
    await bench.press("PageDown");
    assert.match(await bench.place(), /^r1s6 /);
    await bench.page.click("#close-how");
    await bench.page.fill("#measured", "53.6");
    await bench.page.click("#go");      // what was typed is taken in first, and said
    assert.ok(await bench.page.isVisible("#how"));
    assert.match(await bench.place(), /^r1s6 /);
    assert.equal((await kept(bench)).happened[1].width, 53.6);
    await bench.close();
});

// The browser tells a page that a dialog has closed when the builder may have gone on already. So both are done in one
// breath here, and what the browser tells is waited for.
test("a dialog that closes has closed at once: it takes no focus from what is begun after it, and what it held is kept", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    const told = (dialog) => bench.evaluate((name) => {
        window.told = new Promise((resolve) => document.querySelector(name).addEventListener("close", () => setTimeout(resolve), { once: true }));
    }, dialog);
    await toWidth(bench, 5);
    await writeWidth(bench, "49");
    await told("#how");
    await bench.evaluate(() => {
        document.querySelector("#close-how").click();
        document.querySelector("#measured").select();
    });
    await bench.page.keyboard.type("12");
    await bench.evaluate(() => window.told);
    assert.equal(await bench.evaluate(() => document.activeElement.id), "measured", "what is being written is not taken in before it is done");
    assert.ok(!(await bench.page.isVisible("#how")));
    assert.equal((await kept(bench)).happened[0].width, 49);
    await bench.press("Enter");
    assert.match(await bench.page.textContent("#how-words"), /taken for a slip/);
    await told("#how");
    await bench.press("Escape");
    await bench.evaluate(() => window.told);
    assert.ok(await bench.evaluate(() => document.activeElement === document.body), "a pedal goes forward then");
    await bench.page.click("#open-list");
    await bench.page.click("#open-note");
    await bench.page.fill("#note-text", "tight");
    const now = await bench.evaluate(() => {
        document.querySelector("#close-note").click();
        const { notes } = JSON.parse(localStorage.getItem("turnlay-job-" + document.body.dataset.pattern));
        return [notes[0].text, document.querySelector("#noted").textContent, document.querySelector("#noted").hidden, document.activeElement === document.body];
    });
    assert.deepEqual(now, ["tight", "Note tight", false, true]);
    await bench.page.click("#open-list");
    await bench.page.click("#open-job");
    await bench.evaluate(() => document.querySelector("#record-file").dispatchEvent(new Event("cancel", { bubbles: true })));
    assert.ok(await bench.page.isVisible("#record"), "a file that was not chosen closes nothing");
    await bench.close();
});

test("a width, a lot and a note are there again when the page is opened again", async (browser) => {
    const bench = await Bench.open(browser, "harbour", { viewport: { width: 390, height: 844 } }, null, allAtOnce);
    const strange = "</p><img src=x onerror='window.broken = 1'> ‮x";
    await toWidth(bench, 5);
    await writeWidth(bench, "45.6");
    await bench.page.click("#close-how");
    await bench.page.click("#open-list");
    await bench.page.click("#open-note");
    await bench.page.fill("#note-text", strange);
    await bench.page.fill("#note-date", "first evening");
    await bench.page.click("#close-note");
    await openRecord(bench);
    await bench.page.fill("#lots input >> nth=0", "2217-b");
    await bench.page.fill("#lots input >> nth=1", strange);
    await bench.page.click("#close-record");
    await bench.reload();
    assert.equal(await bench.page.inputValue("#measured"), "45.6");
    assert.equal(await bench.page.textContent("#noted"), "Note " + strange);
    await bench.page.click("#open-list");
    await bench.page.click("#open-note");
    assert.equal(await bench.page.inputValue("#note-date"), "first evening");
    await bench.page.click("#close-note");
    await openRecord(bench);
    assert.deepEqual([await bench.page.inputValue("#lots input >> nth=0"), await bench.page.inputValue("#lots input >> nth=1")], ["2217-b", strange]);
    assert.equal(await bench.evaluate(() => window.broken), undefined);
    assert.equal(await bench.page.locator("main img, dialog img").count(), 0);
    await bench.close();
});

test("what is to be run makes the sheet that the program makes, from a shell", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    await openRecord(bench);
    assert.match(await bench.page.textContent("#run-why"), /^Nothing need be run/);
    assert.equal(await bench.page.locator(".command").count(), 0);
    await bench.page.click("#close-record");
    await toWidth(bench, 5);
    for (const [typed, why, measured] of [["44.6", /^Nothing need be run: what was measured is within/, "5=44.6mm"], ["45.9 after 303 turns sure", /^Plan the rest again/, "5=45.9mm after 303 turns sure"]]) {
        await writeWidth(bench, typed);
        await closeHow(bench);
        await openRecord(bench);
        assert.match(await bench.page.textContent("#run-why"), why);
        const place = mkdtempSync(tmpdir() + "/turnlay-page-");
        cpSync(patterns, place, { recursive: true });
        writeFileSync(place + "/harbour.record.json", (await download(bench)).bytes);
        const [direct, byRecord] = await bench.page.locator(".command").allTextContents();
        const made = [direct, byRecord].map((command) => {
            execFileSync("sh", ["-c", command], { cwd: place, stdio: "ignore", env: { ...process.env, PATH: folder + "/..:" + process.env.PATH } });
            return readFileSync(place + "/harbour.html", "utf8").replace(/(<body[^>]*) data-from="\d+"/, "$1");   // the record knows where one stood
        });
        execFileSync(turnlay, ["sheet", "--measured", measured, "-o", place + "/own.html", place + "/harbour.lay"], { stdio: "ignore" });
        const own = readFileSync(place + "/own.html", "utf8");
        assert.ok(made[0] === own, direct);
        assert.ok(made[1] === own, byRecord);
        rmSync(place, { recursive: true });
        await bench.page.click("#close-record");
    }
    await bench.close();
});

test("what is to be run names the file as a shell takes it, whatever it is called", async (browser) => {
    const place = mkdtempSync(tmpdir() + "/turnlay-page-");
    cpSync(patterns, place, { recursive: true });
    for (const name of ["it's the \"$HOME\" rod", "-o", "a b;c"]) {
        const path = place + "/" + name + ".lay", made = place + "/" + name + ".html";
        cpSync(patterns + "/harbour.lay", path);
        execFileSync(turnlay, ["sheet", "-o", folder + "/harbour-odd.html", path], { stdio: "ignore" });
        const bench = await Bench.open(browser, "harbour-odd", tablet, null, allAtOnce);
        await toWidth(bench, 5);
        await writeWidth(bench, "45.6");
        await bench.page.click("#plan-again");
        const own = await download(bench), [direct, byRecord] = await bench.page.locator(".command").allTextContents();
        writeFileSync(place + "/" + own.name, own.bytes);
        for (const command of [direct, byRecord]) {
            rmSync(made, { force: true });
            execFileSync("sh", ["-c", command], { cwd: place, stdio: "ignore", env: { ...process.env, PATH: folder + "/..:" + process.env.PATH } });
            assert.match(readFileSync(made, "utf8"), /data-happened=/, command);
        }
        await bench.close();
    }
    rmSync(place, { recursive: true });
});

test("a sheet that was planned again stands where one stood, and says what changed until that is confirmed", async (browser) => {
    const measured = "5=45.6mm", before = stepsOf(sheetOf("harbour")), after = stepsOf(sheetOf("harbour", "--measured", measured));
    writePage("harbour", "harbour-again", "--measured", measured);
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    const first = before.findIndex((step) => step.number === 6);
    for (const step of [...before.slice(first, first + 14), ...before.slice(first + 14).filter((_, at) => at % 9 === 0)]) {
        await bench.goToPage("harbour");
        await bench.goTo("r1s" + step.number);
        await bench.goToPage("harbour-again");
        assert.ok(await bench.page.isVisible("#changed"));
        const [id] = (await bench.place()).split(" "), made = await counted(bench), found = after.find((other) => "r1s" + other.number === id);
        assert.deepEqual([found.rod, found.place, found.layer], [step.rod, step.place, step.layer], step.number + " as " + id);
        const beginOf = (steps, at) => steps.slice(0, at).findLast((other) => other.rod === step.rod && other.place === step.place && other.layer === step.layer)?.layer_turn ?? 0;
        const begin = beginOf(before, before.indexOf(step)), now = beginOf(after, after.indexOf(found)) + made;
        assert.ok(now === begin || now < begin && found.turns === 0 || found.says === step.says, step.number + " begins at " + begin + ", " + id + " at " + now);
    }
    const said = await bench.page.textContent("#changed-shown");
    assert.match(said, /instead of/);
    assert.match(await bench.page.textContent("#changed-place"), /^You go on at step \d+, where you stood\.$/);
    await bench.press("PageDown");
    await bench.press("Enter");
    await bench.press(" ");
    await bench.press("Escape");
    await bench.reload();
    assert.ok(await bench.page.isVisible("#changed"));
    await bench.picture("changed");
    await bench.page.click("#confirm-changes");
    await bench.reload();
    assert.ok(!(await bench.page.isVisible("#changed")));
    await bench.close();
});

test("in the midst of a step the turns that are counted stay, also where they were counted otherwise than the sheet said", async (browser) => {
    for (const [measured, more] of [["5=45.6mm", 0], ["5=45.6mm after 303 turns", 3]]) {
        writePage("harbour", "harbour-again", "--measured", measured);
        const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
        await toWidth(bench, 5);
        await writeWidth(bench, measured.slice(2));
        await closeHow(bench);
        await bench.goTo("r1s6");
        await bench.throughPages();
        await bench.page.click("[data-batch='1']");
        await bench.press("PageDown", 7);
        assert.match(await bench.place(), /^r1s6 7 of /);
        await bench.goToPage("harbour-again");
        const [id] = (await bench.place()).split(" "), made = await counted(bench);
        const steps = stepsOf(sheetOf("harbour", "--measured", measured)), at = steps.findIndex((step) => "r1s" + step.number === id);
        assert.equal(steps[at - 1].layer_turn + made, 300 + more + 7);
        await bench.close();
    }
});

test("a note goes along to the sheet that was planned again", async (browser) => {
    writePage("harbour", "harbour-again", "--measured", "5=45.6mm");
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce), steps = stepsOf(sheetOf("harbour")), last = steps.findLast((step) => step.turns > 5);
    await bench.goTo("r1s" + last.number);
    await bench.page.click("#open-list");
    await bench.page.click("#open-note");
    await bench.page.fill("#note-text", "tight");
    await bench.page.click("#close-note");
    await bench.goToPage("harbour-again");
    await bench.page.click("#confirm-changes");
    assert.equal(await bench.page.textContent("#noted"), "Note tight");
    await bench.page.click("#open-list");
    await bench.page.click("#open-note");
    await bench.page.fill("#note-text", "");
    await bench.page.click("#close-note");
    assert.ok(!(await bench.page.isVisible("#noted")));
    assert.deepEqual((await kept(bench)).notes, []);
    await bench.close();
});

test("rubbish that was saved of the job is left out", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    for (const rubbish of ["", "{", "null", "7", "[]", "{\"happened\":7,\"lots\":{},\"notes\":[null],\"stands\":7,\"on\":[],\"confirmed\":{}}",
        "{\"on\":\"x\",\"stands\":{\"layer\":\"0 0 0.0\",\"begin\":-5,\"nth\":\"x\",\"made\":1e9,\"says\":{}}}", "{\"happened\":[{\"step\":5,\"width\":\"44\"}],\"on\":\"x\",\"stands\":{\"card\":\"r1s5\"}}",
        "{\"happened\":[{\"step\":5,\"width\":44,\"place\":{\"layer\":{}}}]}", "{\"notes\":[{\"text\":\"x\",\"place\":[]}]}"]) {
        await bench.evaluate((text) => { localStorage.clear(); localStorage.setItem("turnlay-job-" + document.body.dataset.pattern, text); }, rubbish);
        await bench.reload();
        await bench.goTo("r1s5");
        await openRecord(bench);
        await bench.page.click("#close-record");
    }
    await bench.close();
});

test("a record of another file, a broken or a hostile one is refused with words, and nothing of it is taken up", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    const pattern = await bench.evaluate(() => document.body.dataset.pattern), good = { turnlay: "record 1", pattern };
    const place = mkdtempSync(tmpdir() + "/turnlay-page-"), path = place + "/harbour.record.json";
    const refused = {
        "another file": JSON.stringify({ ...good, pattern: "0123-4567-89ab", title: "<img src=x onerror='window.broken = 1'>" }), "nothing": "", "no JSON": "{", "a list": "[]", "a number": "7", "null": "null",
        "no version": JSON.stringify({ pattern }), "another version": JSON.stringify({ ...good, turnlay: "record 2" }), "something unknown": JSON.stringify({ ...good, "<b>x</b>": 1 }),
        "a prototype": "{\"turnlay\":\"record 1\",\"pattern\":\"" + pattern + "\",\"__proto__\":{\"at\":3}}", "no UTF-8": Buffer.concat([Buffer.from("{\"turnlay\":\"record 1\",\"title\":\""), Buffer.from([0xff, 0xfe]), Buffer.from("\",\"pattern\":\"" + pattern + "\"}")]),
        "step 0": JSON.stringify({ ...good, happened: [{ step: 0, width: 44 }] }), "half a step": JSON.stringify({ ...good, happened: [{ step: 1.5, width: 44 }] }), "no width": JSON.stringify({ ...good, happened: [{ step: 5 }] }),
        "a width of nothing": JSON.stringify({ ...good, happened: [{ step: 5, width: 0 }] }), "a width in words": JSON.stringify({ ...good, happened: [{ step: 5, width: "44" }] }), "a huge width": JSON.stringify({ ...good, happened: [{ step: 5, width: 1e12 }] }),
        "a member too many": JSON.stringify({ ...good, happened: [{ step: 5, width: 44, html: "x" }] }), "an unknown mishap": JSON.stringify({ ...good, happened: [{ step: 5, mishap: "fell" }] }),
        "too many": JSON.stringify({ ...good, happened: Array(5000).fill({ step: 5, width: 44 }) }), "a lot of a list": JSON.stringify({ ...good, lots: [{ thread: "navy", lot: ["x"] }] }),
        "a long lot": JSON.stringify({ ...good, lots: [{ thread: "navy", lot: "x".repeat(300) }] }), "a long note": JSON.stringify({ ...good, notes: [{ step: 5, text: "x".repeat(5000) }] }),
        "a row of three": JSON.stringify({ ...good, done: [[5, 6, 7]] }), "no row": JSON.stringify({ ...good, done: [5] }), "a name twice": "{\"turnlay\":\"record 1\",\"pattern\":\"" + pattern + "\",\"at\":3,\"at\":4}",
        "an escaped name twice": "{\"turnlay\":\"record 1\",\"pattern\":\"" + pattern + "\",\"at\":3,\"\\u0061t\":4}", "no wrap": JSON.stringify({ ...good, happened: [{ step: 5, width: 44, made: [] }] }), "another sheet": JSON.stringify({ ...good, happened: [{ step: 5, width: 44, sheet: -1 }] }), "a deep one": "[".repeat(100000) + "]".repeat(100000), "a huge one": " ".repeat(9 << 20)
    };
    await openRecord(bench);
    for (const [what, bytes] of Object.entries(refused)) {
        writeFileSync(path, bytes);
        await bench.page.setInputFiles("#record-file", path);
        await bench.page.waitForFunction(() => /record/.test(document.querySelector("#record-words").textContent) && !document.querySelector("#record-file").files.length);
        const words = await bench.page.textContent("#record-words");
        assert.match(words, /^This (is no record|record is of another file|file is larger)/, what);
        assert.ok(words.length < 400, what);
        const job = await kept(bench);
        assert.deepEqual([job.happened, job.lots, job.notes], [[], [], []], what);
        const command = spawnSync(turnlay, ["sheet", "-I", patterns, "--record", path, patterns + "/harbour.lay"], { maxBuffer: 1 << 26 });
        assert.equal(command.status, 1, what + ": " + command.stderr);
        assert.match(String(command.stderr), /T7\d\d/, what);
    }
    assert.equal(await bench.evaluate(() => window.broken), undefined);
    await bench.picture("refused");
    rmSync(place, { recursive: true });
    await bench.close();
});

test("a record that was downloaded is taken up by another phone, where it stood, and by the program", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce);
    await toWidth(bench, 5);
    await writeWidth(bench, "45.6");
    await bench.page.click("#close-how");
    await bench.page.click("#open-list");
    await bench.page.click("#open-note");
    await bench.page.fill("#note-text", "<b>tight</b>");
    await bench.page.fill("#note-date", "first evening");
    await bench.page.click("#close-note");
    await bench.goTo("r1s9");
    await openRecord(bench);
    await bench.page.fill("#lots input >> nth=0", "2217-b");
    await bench.page.press("#lots input >> nth=0", "Tab");
    const { name, bytes } = await download(bench), record = JSON.parse(bytes);
    assert.equal(name, "harbour.record.json");
    assert.deepEqual([record.turnlay, record.title, record.at, record.done], ["record 1", "Harbour", 9, [[1, 8]]]);
    assert.deepEqual(record.happened.map(({ step, width, gaps, made }) => [step, width, gaps, made.map(({ thread, turns }) => [thread, turns])]), [[5, 45.6, 0, [["navy", 300]]]]);
    assert.deepEqual([record.lots, record.notes], [[{ thread: "navy", lot: "2217-b" }], [{ step: 5, text: "<b>tight</b>", date: "first evening" }]]);
    const other = await Bench.open(browser, "harbour", phone, null, allAtOnce);
    await openRecord(other);
    await other.page.setInputFiles("#record-file", { name, mimeType: "application/json", buffer: bytes });
    await other.page.waitForFunction(() => /taken up/.test(document.querySelector("#record-words").textContent));
    await other.page.click("#close-record");
    assert.match(await other.place(), /^r1s9( |$)/);
    await openRecord(other);
    assert.equal((await download(other)).bytes.toString(), bytes.toString());
    assert.match(await other.page.textContent("#happened-list"), /^Step 5: 45\.6.mm$/);
    await other.page.click("#begin-anew");
    await other.page.click("#keep-record");
    assert.equal((await kept(other)).happened.length, 1);
    await other.page.click("#begin-anew");
    await other.page.click("#forget-record");
    const forgotten = await kept(other);
    assert.deepEqual([forgotten.happened, forgotten.lots, forgotten.notes], [[], [], []]);
    await other.close();
    await bench.close();
});

test("of two widths of one sheet the record says on which they were counted, and the program takes both", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, allAtOnce), place = mkdtempSync(tmpdir() + "/turnlay-page-");
    await toWidth(bench, 6);
    await writeWidth(bench, "53.1");
    await closeHow(bench);
    await toWidth(bench, 5);        // written later, and yet before it in the work
    await writeWidth(bench, "45.6");
    await closeHow(bench);
    await bench.goTo("r1s7");
    await openRecord(bench);
    assert.equal(await bench.page.locator(".command").count(), 1);
    const { bytes } = await download(bench), record = JSON.parse(bytes), path = place + "/job.json";
    assert.deepEqual(record.happened.map(({ step, sheet, width, made }) => [step, sheet, width, made[0].turns]), [[5, undefined, 45.6, 300], [6, 0, 53.1, 348]]);
    assert.deepEqual([record.sheet, record.at], [0, 7]);
    writeFileSync(path, bytes);
    const again = sheetOf("harbour", "--record", path);
    assert.deepEqual(again.happened.map(({ step, sheet, width, made, wrap }) => [step, sheet, width, made[0].turns, wrap]), [[5, undefined, 45.6, 300, 1], [6, 0, 53.1, 348, 1]]);
    writePage("harbour", "harbour-again", "--record", path);
    for (const isFresh of [false, true]) {     // here, and on a phone that knows nothing of the job
        const other = isFresh ? await Bench.open(browser, "harbour-again", phone, null, allAtOnce) : bench;
        if (!isFresh)
            await bench.goToPage("harbour-again");
        await other.page.click("#confirm-changes");
        const steps = stepsOf(again), [id] = (await other.place()).split(" "), at = steps.findIndex((step) => "r1s" + step.number === id);
        if (isFresh)        // turns within a step are known to that phone alone
            assert.ok(steps[at - 1].layer_turn <= 348 && steps[at].layer_turn > 348, id);
        else
            assert.equal(steps[at - 1].layer_turn + await counted(other), 348, id);
        await openRecord(other);
        assert.match(await other.page.textContent("#run-why"), /^Nothing need be run: this sheet has all/);
        const { bytes: later } = await download(other), { happened } = JSON.parse(later);
        assert.deepEqual(happened, record.happened.map((item) => ({ ...item, made: item.made.map((row) => ({ ...row, nominal_turn: happened[0].made[0].nominal_turn })) })));
        await other.page.click("#close-record");
    }
    await bench.close();
    rmSync(place, { recursive: true });
});

test("a sheet on which thread broke has that in its record, too", async (browser) => {
    writePage("harbour", "harbour-again", "--measured", "5=45.6mm", "--mishap", "6 broke after 9 turns");
    const bench = await Bench.open(browser, "harbour-again", phone, null, allAtOnce);
    if (await bench.page.isVisible("#changed"))
        await bench.page.click("#confirm-changes");
    await openRecord(bench);
    assert.match(await bench.page.textContent("#happened-list"), /Step 5: 45\.6.mm.*Step 6: broke, 9 turns/);
    const { happened } = JSON.parse((await download(bench)).bytes), sheet = sheetOf("harbour", "--measured", "5=45.6mm", "--mishap", "6 broke after 9 turns");
    assert.deepEqual(happened, sheet.happened);
    await bench.close();
});

test("where turns had to come off the page goes on from where the sheet says, not from where one stood", async (browser) => {
    const options = ["--measured", "5=45.6mm", "--mishap", "6 broke after 30 turns"];
    writePage("harbour", "harbour-again", ...options);
    const sheet = stepsOf(sheetOf("harbour", ...options)), bench = await Bench.open(browser, "harbour", tablet, null, { apart: "0", batch: "10" });
    await bench.goTo("r1s6");
    await bench.throughPages();
    await bench.press("PageDown", 3);
    assert.match(await bench.place(), /^r1s6 30 of /);
    await bench.goToPage("harbour-again");
    const from = await bench.evaluate(() => Number(document.body.dataset.from));
    assert.match(await bench.place(), new RegExp("^r1s" + from + "( |$)"));
    assert.ok(sheet[from - 2].layer_turn <= 330 - 4 && await counted(bench) === 0);
    assert.match(await bench.page.textContent("#changed-place"), /^You go on at step \d+\.$/);
    assert.match(await bench.page.textContent("#changed-shown"), /navy\s1 broke after 30\sturns/);
    await bench.page.click("#confirm-changes");
    await bench.press("ArrowRight", 2);
    const stood = await bench.place();
    await bench.reload();      // from then on the page knows where one stands
    assert.equal(await bench.place(), stood);
    await bench.close();
});

test("where to stop for the night is said from every step as the sheet as data has it", async (browser) => {
    const bench = await Bench.open(browser, "crosswraps_held", phone, null, allAtOnce);
    const sheet = JSON.parse(execFileSync(turnlay, ["sheet", "--format", "json", "-I", patterns, "tests/sheet/crosswraps_held.lay"], { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 }));
    const flat = (words) => words.replace(/\s+/g, " ").trim();
    for (const step of stepsOf(sheet).filter((_, at) => at % 7 === 0)) {
        await bench.evaluate((number) => {
            document.querySelector("#open-list").click();
            Array.from(document.querySelectorAll(".entries button")).find((entry) => entry.querySelector(".number").textContent === String(number)).click();
        }, step.number);
        await bench.page.click("#open-list");
        await bench.page.click("#open-night");
        assert.equal(flat(await bench.evaluate(() => Array.from(document.querySelectorAll("#night-words > p"), (line) => line.textContent).join(" "))), flat(step.night.says));
        await bench.page.click("#close-night");
    }
    await bench.goTo("start");
    await bench.page.click("#open-list");
    assert.ok(!(await bench.page.isVisible("#open-night")) && !(await bench.page.isVisible("#open-note")));
    await bench.close();
});

test("no accessibility fault in what is kept of the job, in light and dark", async (browser) => {
    writePage("harbour", "harbour-again", "--measured", "5=45.6mm");
    for (const colorScheme of ["light", "dark"]) {
        const bench = await Bench.open(browser, "harbour", { viewport: { width: 390, height: 844 }, colorScheme }, null, allAtOnce);
        const look = async (what) => {
            await bench.picture(["job", what, colorScheme].join("-"));
            assert.deepEqual(await bench.accessibilityFaults(), [], what);
            const small = await bench.evaluate(() => Array.from(document.querySelectorAll("button, input")).filter((one) => one.checkVisibility() && (one.offsetWidth < 64 || one.offsetHeight < 64)).map((one) => one.id || one.textContent));
            assert.deepEqual(small, [], what);
        };
        await toWidth(bench, 5);
        await writeWidth(bench, "49");
        await look("far");
        await bench.page.click("#it-is-so");
        await look("off");
        await bench.page.click("#plan-again");
        await look("record");
        await bench.page.click("#begin-anew");
        await look("anew");
        await bench.page.click("#keep-record");
        await bench.page.click("#close-record");
        await look("width");
        await bench.page.click("#open-list");
        await look("list");
        await bench.page.click("#open-note");
        await look("note");
        await bench.page.click("#close-note");
        await bench.goToPage("harbour-again");
        await look("changed");
        await bench.close();
    }
});
