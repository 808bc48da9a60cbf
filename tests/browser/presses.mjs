// Presses that were not meant, and counts that must not be lost. The page goes by the time stamps of events, which stand
// still here until a test moves them: no test waits.
import assert from "node:assert/strict";
import { Bench, phone, tablet, test } from "./bench.mjs";

// As a page is opened for the first time, its clock in the test's hand.
async function openOnClock(browser, settings = null, options = tablet) {
    const bench = await Bench.open(browser, "harbour", options, null, settings);
    await bench.page.clock.install({ time: 0 });
    await bench.reload();
    await bench.page.clock.pauseAt(60000);
    return bench;
}
const count = async (bench) => Number((await bench.place()).split(" ")[1]);

test("two presses within 0.3 seconds are one, whatever makes them; later ones are two", async (browser) => {
    const bench = await openOnClock(browser);
    await bench.goToWind(10);
    const pedal = () => bench.press("PageDown"), key = () => bench.press(" "), tap = () => bench.page.click("#go");
    let counted = 0;
    for (const first of [pedal, key, tap])
        for (const second of [pedal, key, tap]) {
            if (counted === 9)
                await bench.goToWind(10), counted = 0;
            await bench.page.clock.runFor(2000);
            await first();
            await second();
            await bench.page.clock.runFor(299);
            await second();
            assert.equal(await count(bench), ++counted);
            assert.equal(await bench.page.textContent("#step-of"), "Quick press left out");
        }
    await bench.page.clock.runFor(300);
    await bench.goToWind(10, 1 / 4);
    await bench.press("PageDown");
    await bench.page.clock.runFor(300);
    await bench.press("PageDown");
    assert.equal(await count(bench), 2);
    assert.match(await bench.page.textContent("#step-of"), /^Step \d+ of \d+$/);
    await bench.press("ArrowLeft");     // another key was meant: it is not the foot that came down twice
    assert.equal(await count(bench), 1);
    await bench.press("ArrowLeft");
    assert.equal(await count(bench), 1);
    await bench.page.clock.runFor(300);
    await bench.press("ArrowLeft");
    assert.equal(await count(bench), 0);
    await bench.close();
});

test("how soon is too soon is a setting, and is kept for every sheet", async (browser) => {
    const bench = await openOnClock(browser);
    await bench.page.click("#open-list");
    await bench.page.click("#open-settings");
    await bench.picture("settings");
    await bench.page.check("input[name='apart'][value='1000']");
    await bench.press("PageDown");
    await bench.page.click("#close-settings");
    assert.equal(await bench.place(), "start");
    await bench.reload();
    await bench.goToWind(10);
    await bench.press("PageDown");
    await bench.page.clock.runFor(999);
    await bench.press("PageDown");
    assert.equal(await count(bench), 1);
    await bench.page.clock.runFor(1);
    await bench.press("PageDown");
    assert.equal(await count(bench), 2);
    await bench.goToPage("whole_rod");
    assert.ok(await bench.page.locator("input[name='apart'][value='1000']").isChecked());
    await bench.page.click("#open-list");
    await bench.page.click("#open-settings");
    await bench.page.check("input[name='apart'][value='0']");
    await bench.page.click("#close-settings");
    await bench.goToWind(10);
    await bench.press("PageDown", 5);
    assert.equal(await count(bench), 5);
    for (const rubbish of ["", "{", "null", "7", "[]", "{\"apart\":\"7\",\"scheme\":\"no\",\"batch\":\"-1\"}", "{\"apart\":300}"]) {
        await bench.evaluate((text) => localStorage.setItem("turnlay-sheet-settings", text), rubbish);
        await bench.reload();
        const marked = await bench.evaluate(() => Array.from(document.querySelectorAll("#settings :checked"), (input) => input.name + " " + input.value));
        assert.deepEqual(marked, ["scheme system", "apart 300", "depth steps", "batch 1"], rubbish);
    }
    await bench.close();
});

test("a press that completes a count is not followed by the next step within a second", async (browser) => {
    const bench = await openOnClock(browser);
    const id = await bench.goToWind(10);
    await bench.page.click("[data-batch='0']");
    await bench.press("PageDown");
    assert.match(await bench.place(), new RegExp("^" + id + " .*all counted"));
    await bench.page.clock.runFor(999);
    await bench.press("PageDown");
    assert.match(await bench.place(), new RegExp("^" + id + " .*all counted"));
    await bench.page.clock.runFor(1);
    await bench.press("PageDown");
    assert.ok(!(await bench.place()).startsWith(id + " "));
    await bench.close();
});

test("a batch is for the step that it was chosen in; the settings say with which a step begins", async (browser) => {
    const marked = (bench) => bench.evaluate(() => Array.from(document.querySelectorAll("[data-batch][aria-pressed=true]"), (button) => button.dataset.batch).join());
    const bench = await Bench.open(browser, "harbour");
    const [first, second] = await bench.winds(10);
    await bench.goTo(first);
    await bench.throughPages();
    assert.equal(await marked(bench), "1");
    await bench.page.click("[data-batch='5']");
    await bench.press("PageDown");
    assert.match(await bench.place(), / 5 of /);
    await bench.reload();
    assert.equal(await marked(bench), "5");
    await bench.goTo(second);
    await bench.throughPages();
    assert.equal(await marked(bench), "1");
    await bench.press("PageDown");
    assert.match(await bench.place(), / 1 of /);
    await bench.close();
    const settled = await Bench.open(browser, "harbour", tablet, null, { apart: "0", batch: "10" });
    await settled.goTo(second);
    assert.equal(await marked(settled), "10");
    await settled.close();
});

test("picking a step from the list asks before counted turns are left, and keeps them", async (browser) => {
    for (const options of [tablet, phone]) {
        const bench = await Bench.open(browser, "harbour", options);
        const [id, other] = await bench.winds(10);
        const pick = async (wanted) => {
            await bench.page.click("#open-list");
            const at = await bench.evaluate((card) => Array.from(document.querySelectorAll(".card")).findIndex((one) => one.id === card), wanted);
            await bench.page.locator(".entries button").nth(at).click();
        };
        await bench.goTo(id);
        await bench.throughPages();
        await bench.press("PageDown", 3);
        const before = await bench.place();
        await pick(other);
        assert.equal(await bench.place(), before);
        assert.equal(await bench.page.textContent("#ask-words"), "3 of " + before.split(" ")[3] + " turns are counted in step " + id.slice(3) + ".");
        await bench.picture("ask-" + options.viewport.width);
        await bench.press("PageDown");
        await bench.press(" ");     // a pedal stays, whatever key it sends
        assert.ok(!(await bench.page.isVisible("#ask")));
        assert.equal(await bench.place(), before);
        await pick(id);             // the step itself: nothing is lost, nothing asked
        assert.equal(await bench.place(), before);
        await pick(other);
        await bench.press("Escape");
        assert.equal(await bench.place(), before);
        await pick(other);
        await bench.page.click("#keep");
        await bench.throughPages();
        assert.match(await bench.place(), new RegExp("^" + other + " 0 of "));
        await bench.reload();
        await pick(id);
        assert.equal(await bench.place(), before);
        await bench.press("ArrowLeft", 2);      // press by press, as they were counted
        assert.match(await bench.place(), / 1 of /);
        await pick(other);
        await bench.page.click("#forget");
        await pick(id);
        await bench.throughPages();
        assert.match(await bench.place(), new RegExp("^" + id + " 0 of "));
        await bench.page.click("#open-list");
        await bench.page.click("#close-list");
        await bench.close();
    }
});

test("a step that is all counted keeps its count without a question; so does one that is passed and come back to", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, { apart: "0", batch: "0" });
    const [id, other] = await bench.winds(10);
    await bench.goTo(id);
    await bench.throughPages();
    await bench.press("PageDown");
    const full = await bench.place();
    assert.match(full, /all counted/);
    await bench.goTo(other);
    await bench.goTo(id);
    assert.equal(await bench.place(), full);
    await bench.press("PageDown");
    await bench.press("ArrowLeft");
    assert.equal(await bench.place(), full);
    await bench.close();
});

test("rubbish that was saved of kept counts is left out", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const [id, other] = await bench.winds(10);
    for (const [kept, turns] of [[null, 0], [7, 0], [{ [id]: 3 }, 0], [{ [id]: { turns: 3 } }, 3], [{ [id]: { turns: 99999, presses: [] } }, 0],
        [{ [id]: { turns: 4, presses: ["x"] } }, 4], [{ __proto__: { turns: 1 }, nowhere: { turns: 3 } }, 0]]) {
        await bench.evaluate(([card, kept]) => localStorage.setItem("turnlay-sheet-" + document.body.dataset.key,
            JSON.stringify({ card, turns: 0, batch: 1, presses: [], kept })), [other, kept]);
        await bench.reload();
        await bench.goTo(id);
        await bench.throughPages();
        assert.equal(await count(bench), turns, JSON.stringify(kept));
    }
    await bench.close();
});

test("a step of several counts counts them one after the other, and says what hands do between", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, { apart: "0", batch: "0" });
    const { id, courses, between } = await bench.evaluate(() => {
        const step = Array.from(document.querySelectorAll(".step")).find((one) => one.querySelectorAll(".actions > [data-turns]").length > 1);
        const actions = Array.from(step.querySelectorAll(".actions > li")), counted = actions.filter((action) => action.dataset.turns);
        return { id: step.id, courses: counted.map((action) => Number(action.dataset.turns)),
            between: actions.slice(actions.indexOf(counted[0]) + 1, actions.indexOf(counted[1]) + 1).map((action) => action.querySelector(".does").textContent) };
    });
    const total = courses.reduce((sum, turns) => sum + turns, 0);
    await bench.goTo(id);
    await bench.throughPages();
    let made = 0;
    for (const [at, turns] of courses.entries()) {
        assert.match(await bench.place(), new RegExp("^" + id + " 0 of " + turns + " turns?, " + made + " of " + total + " in the step$"));
        if (at === 1)
            assert.equal(await bench.page.textContent("#present"), "Now " + between.join(". "));
        const lit = await bench.evaluate(() => document.querySelectorAll(".run[data-state=present]").length);
        assert.equal(lit, 1);
        await bench.press("PageDown");      // a batch ends with its count
        made += turns;
    }
    assert.match(await bench.place(), new RegExp("all counted, " + total + " of " + total + " in the step$"));
    for (const turns of [...courses].reverse()) {
        await bench.press("ArrowLeft");
        made -= turns;
        assert.ok((await bench.place()).includes(" " + made + " of " + total + " in the step"));
    }
    await bench.close();
});

test("one by one a step shows its actions, each counted where turns are made, for this step alone", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, { apart: "0", batch: "0" });
    const { id, does } = await bench.evaluate(() => {
        const step = Array.from(document.querySelectorAll(".step")).find((one) => one.querySelectorAll(".actions > [data-turns]").length);
        return { id: step.id, does: Array.from(step.querySelectorAll(".actions > li"), (action) =>
            [action.querySelector(".does").textContent, Number(action.dataset.turns || 0)]) };
    });
    const shown = () => bench.evaluate(() => Array.from(document.querySelectorAll(".now .does, .now > .action")).filter((text) => text.checkVisibility()).map((text) => text.textContent));
    await bench.goTo(id);
    await bench.page.click("#one-by-one");
    assert.equal(await bench.page.getAttribute("#one-by-one", "aria-pressed"), "true");
    for (const [at, [words, turns]] of does.entries()) {
        await bench.throughPages();
        assert.deepEqual(await shown(), [words]);
        assert.match(await bench.page.textContent("#step-of"), new RegExp("^Step \\d+, (action " + (at + 1) + " of " + does.length + "|page)"));
        if (turns) {
            assert.match(await bench.place(), new RegExp("^" + id + " 0 of " + turns + " "));
            await bench.press("PageDown");
            assert.match(await bench.place(), new RegExp("^" + id + " " + turns + " of " + turns + " .*counted"));
        }
        if (at === 1) {
            await bench.reload();
            await bench.throughPages();
            assert.deepEqual(await shown(), [words]);
        }
        await bench.press("PageDown");
    }
    assert.ok(!(await bench.place()).startsWith(id + " "));
    await bench.goTo(id);
    const whole = await shown();
    assert.ok(whole.length === 1 && !does.some(([words]) => words === whole[0]), whole.join());
    await bench.page.click("#one-by-one");
    await bench.page.click("#one-by-one");
    assert.equal(await bench.page.getAttribute("#one-by-one", "aria-pressed"), "false");
    await bench.page.click("#open-list");
    await bench.page.click("#open-settings");
    await bench.page.check("input[name='depth'][value='actions']");
    await bench.page.click("#close-settings");
    await bench.goTo("start");
    await bench.goTo(id);
    assert.deepEqual(await shown(), [does[0][0]]);
    await bench.close();
});
