// How large letters have to be, and whether all that a card says stands above the buttons.
//
// A letter that is just made out spans 5 minutes of arc where visual acuity is 1.0 (its strokes 1 minute): ISO 8596:2017,
// "Ophthalmic optics - Visual acuity testing - Standard and clinical optotypes and their presentation", whose Landolt
// ring is five strokes high. Reading at once, not at the limit, takes letters about twice as high: S. G. Whittaker and
// J. Lovie-Kitchin, "Visual requirements for reading", Optom. Vis. Sci. 70 (1993) 54-65 (an acuity reserve of 2:1 for
// reading with ease; from memory). So a capital spans 10 minutes, from as far as the thing is read.
//
// How large a CSS pixel is, a device decides: CSS Values and Units 3 has 1/96 in at arm's length (28 in), so that what is
// nearer may be smaller. On phones it is about 1/160 in: 390 x 844 pixels on a diagonal of 6.1 in are 0.167 mm each;
// Android's density-independent pixel is 1/160 in, 0.159 mm, by definition. The smaller is asked for on every screen.
import assert from "node:assert/strict";
import { Bench, examples, test } from "./bench.mjs";

const MM_A_PIXEL = 25.4 / 160;
const CAPITAL_MINUTES = 2 * 5;
const BENCH = 1500, ARM = 28 * 25.4;   // mm: a step back from the rod; at arm's length, as CSS has it
const capitalPixels = (distance) => distance * Math.tan(CAPITAL_MINUTES / 60 * Math.PI / 180) / MM_A_PIXEL;

const screens = {
    "a phone": { width: 390, height: 844 }, "a small phone": { width: 360, height: 640 },
    "a phone on its side": { width: 844, height: 390 }, "a laptop": { width: 1280, height: 800 }
};

// Presses forward from the first card to the last; gives what `look` finds on every screen of each, with the card's name.
function pressThrough(look, given) {
    const found = [], go = document.querySelector("#go");
    for (let presses = 0; presses < 20000; presses++) {
        const card = document.querySelector(".card.now");
        found.push(...look(card, given).map((words) => card.id + ": " + words));
        if (go.disabled)
            return found;
        go.click();
    }
    return ["the end was not reached"];
}
const walk = (bench, look, given) => bench.evaluate(`(${pressThrough})(${look}, ${JSON.stringify(given)})`);

// What of a card cannot be seen: it lies below the bar's top or outside the card's room, which must not scroll either.
function hidden(card) {
    const bar = document.querySelector(".bar").getBoundingClientRect(), main = document.querySelector("main");
    const room = main.getBoundingClientRect(), beside = bar.left >= room.right;
    const bottom = beside ? room.bottom : Math.min(room.bottom, bar.top);
    const found = window.displayed(main).filter((element) => element.matches(".now > *, .card.now *, figure.now") &&
        !element.closest(".quiet, .rod > h2, .picture svg") && element.getBoundingClientRect().bottom > bottom + 0.5)
        .map((element) => (element.className || element.tagName) + " by " + Math.round(element.getBoundingClientRect().bottom - bottom) + " px");
    if (main.scrollHeight > main.clientHeight)
        found.push("scrolls by " + (main.scrollHeight - main.clientHeight) + " px");
    return found;
}

// All that every card says, on all its leaves, as far as it is seen; to be held against what the page holds.
function said(card) {
    const texts = Array.from(card.querySelectorAll(".action, .facts > p, .detail, .caution, td, dd, .name"));
    return texts.filter((text) => text.checkVisibility()).map((text) => text.innerText.replace(/\s+/g, " ").trim());
}

test("nothing of any card of any example lies under the bar", async (browser) => {
    for (const name of examples) {
        const bench = await Bench.open(browser, name, { viewport: screens["a phone"] }, null, { apart: "0", batch: "0" });
        assert.deepEqual((await walk(bench, hidden)).slice(0, 10), [], name);
        await bench.close();
    }
});

test("a card that is leafed through says all that it holds, and no more", async (browser) => {
    for (const [name, viewport] of [["heron", screens["a phone"]], ["crosswraps_held", screens["a small phone"]]]) {
        const bench = await Bench.open(browser, name, { viewport }, null, { apart: "0", batch: "0" });
        const held = await bench.evaluate(() => Array.from(document.querySelectorAll(".card")).flatMap((card) => Array.from(
            card.querySelectorAll(":scope > .action, .facts > p, :scope > .detail, .caution, td, dd, .name"), (text) => card.id + ": " + text.textContent.replace(/\s+/g, " ").trim())));
        const seen = new Map();
        for (const line of await walk(bench, said)) {
            const [id, words] = [line.slice(0, line.indexOf(": ")), line.slice(line.indexOf(": ") + 2)];
            seen.set(id, (seen.get(id) || "") + " " + words);
        }
        const flat = (words) => words.replace(/\s+/g, " ");
        const missing = held.filter((line) => {
            const id = line.slice(0, line.indexOf(": ")), words = line.slice(line.indexOf(": ") + 2);
            return !words.split(/(?<=[.,;:]) /).every((sentence) => flat(seen.get(id) || "").includes(sentence.trim()));
        });
        assert.deepEqual(missing.slice(0, 10), [], name);
        await bench.close();
    }
});

// Letters smaller than they have to be. The height of a capital is measured, in the font that is really used.
function small(card, least) {
    const pen = document.createElement("canvas").getContext("2d"), found = [];
    const capitals = window.capitals ??= new Map();
    const capital = (element) => {
        const { fontWeight, fontSize, fontFamily } = getComputedStyle(element), font = fontWeight + " " + fontSize + " " + fontFamily;
        if (!capitals.has(font)) {
            pen.font = font;
            capitals.set(font, pen.measureText("H").actualBoundingBoxAscent);
        }
        return capitals.get(font);
    };
    for (const element of window.displayed(document.body)) {
        const isText = Array.from(element.childNodes).some((node) => node.nodeType === Node.TEXT_NODE && node.textContent.trim());
        if (!isText || element.closest(".swatch, .picture, .top, script") ||
            element.getBoundingClientRect().width < 2)
            continue;
        if (card.dataset.leaf === "how" && element.matches(".action, .does"))
            continue;   // read at arm's length, before it is done
        /* Where a step has too many words, those of its present action are large. */
        const isLong = card.dataset.leaf === "long", present = element.closest(".present-action");
        /* On a screen smaller than the phone that is asked for, what is done between counts is read at arm's length. */
        const isTight = (innerWidth < 390 || innerHeight < 500) && card.dataset.fit === "7" && card.querySelector(".present-action.many");
        const far = element.matches(".does, .made") || !isLong && element.matches(".action") || isLong && present && !isTight;
        if (capital(element) < (far ? least.far : least.near))
            found.push((element.className || element.tagName) + " has capitals of " + capital(element).toFixed(1) + " px");
    }
    return found;
}

test("the action and the count are read from 1.5 m, all else at arm's length, on screens of all sizes, and nothing lies under the bar", async (browser) => {
    const least = { far: capitalPixels(BENCH), near: capitalPixels(ARM) };
    assert.ok(Math.abs(least.far * MM_A_PIXEL - 4.36) < 0.01, "4.36 mm at 1.5 m, by tan 10 minutes = 0.0029089");
    const both = `(card, least) => [...(${hidden})(card), ...(${small})(card, least)]`;
    for (const viewport of Object.values(screens))
        for (const name of ["heron", "crosswraps_held", "hostile"]) {
            const bench = await Bench.open(browser, name, { viewport }, null, { apart: "0", batch: "0" });
            assert.deepEqual((await walk(bench, both, least)).slice(0, 10), [], name + " on " + viewport.width + " px");
            await bench.close();
        }
});

test("what comes next stands beside the present action, smaller", async (browser) => {
    for (const viewport of Object.values(screens)) {
        const bench = await Bench.open(browser, "harbour", { viewport });
        for (const share of [1 / 4, 1 / 2]) {
            const id = await bench.goToWind(1, share);
            await bench.throughPages();
            const seen = await bench.evaluate((card) => {
                const steps = Array.from(document.querySelectorAll(".step")), now = document.getElementById(card), next = document.querySelector("#next");
                return { words: next.innerText.replace(/\s+/g, " ").trim(), action: steps[steps.indexOf(now) + 1].querySelector(".action").textContent.replace(/\s+/g, " ").trim(),
                    size: parseFloat(getComputedStyle(next).fontSize), large: parseFloat(getComputedStyle(document.querySelector("#made")).fontSize),
                    within: now.contains(next) && next.checkVisibility() || now.dataset.leaf === "long" };
            }, id);
            assert.equal(seen.words, "Next " + seen.action);
            assert.ok(seen.within && seen.size < seen.large * 0.75, JSON.stringify(seen));
        }
        await bench.goTo("end");
        assert.ok(!(await bench.page.isVisible("#next")));
        await bench.close();
    }
});

test("the choice of turns a press counts stands whole on the screen", async (browser) => {
    for (const viewport of [screens["a laptop"], screens["a phone"], { width: 1280, height: 720 }, { width: 1024, height: 768 }]) {
        const bench = await Bench.open(browser, "harbour", { viewport });
        await bench.goToWind(5);
        const cut = await bench.evaluate(() => Array.from(document.querySelectorAll("#choice button, #go, #back, .made")).filter((button) => {
            const box = button.getBoundingClientRect(), top = document.elementFromPoint(box.x + box.width / 2, box.bottom - 3);
            return box.top < 0 || box.left < 0 || box.bottom > innerHeight || box.right > innerWidth || !button.contains(top) && !button.matches(".made");
        }).map((button) => button.textContent));
        assert.deepEqual(cut, [], viewport.width + " px");
        assert.equal(await bench.page.locator("#choice button").count(), 4);
        await bench.close();
    }
});
