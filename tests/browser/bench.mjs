// What the tests of the bench sheet's page share: a page that is driven as a builder would, with keys, taps, paper.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

export const folder = process.argv[2];
// The pages that the folder of examples makes.
export const examples = process.argv[3].split(" ");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
export const tablet = { viewport: { width: 1180, height: 820 } };
export const phone = { viewport: { width: 320, height: 568 }, deviceScaleFactor: 2, hasTouch: true };
export const tests = [];

export function test(name, run) {
    tests.push({ name, run });
}

// What is displayed within an element, and the element itself: what is not is not looked into, nor are the pictures of rods,
// which on a page of thousands of elements takes most of the time.
function displayed(root) {
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_ELEMENT, (element) =>
        element.matches(".picture > svg") || !element.checkVisibility() ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT);
    const found = root.checkVisibility() ? [root] : [];
    while (found.length && walker.nextNode())
        found.push(walker.currentNode);
    return found;
}

// What is kept, in the order of its names, and null where nothing may be: asked in the page.
const KEPT = "(() => { try { return JSON.stringify(Object.entries(localStorage).sort()); } catch { return null; } })()";
const MOST_LOST = 3;

// A page opened in a browser of its own, so that no test sees another's storage. Unless `settings` say otherwise every
// press counts, however soon: a test presses faster than any foot.
export class Bench {
    static async open(browser, name, options = tablet, before = null, settings = { apart: "0" }) {
        const bench = new Bench();
        bench.context = await browser.newContext(options);
        bench.faults = [];
        bench.requests = [];
        bench.page = await bench.context.newPage();
        bench.page.setDefaultTimeout(60000);
        bench.page.on("pageerror", (error) => bench.faults.push(error.message));
        bench.page.on("console", (line) => line.type() === "error" && bench.faults.push(line.text()));
        bench.page.on("dialog", (dialog) => { bench.faults.push("a message box"); dialog.dismiss(); });
        bench.page.on("request", (request) => bench.requests.push(request.url()));
        await bench.page.addInitScript("window.foundKept = " + KEPT);
        await bench.page.addInitScript((saved) => {
            if (saved && !localStorage.getItem("turnlay-sheet-settings"))
                localStorage.setItem("turnlay-sheet-settings", JSON.stringify(saved));
        }, settings);
        await bench.page.addInitScript("window.displayed = " + displayed);
        if (before)
            await bench.page.addInitScript(before);
        await bench.page.goto(bench.address(name));
        return bench;
    }
    address(name) { return "file://" + folder + "/" + name + ".html"; }
    // The same page once more, or another one, with all that the page before it kept. The browser writes that behind the
    // pages' backs, and loses it now and then where the machine is busy, which is no fault of theirs: it is put back then.
    reload() { return this.load(() => this.page.reload()); }
    goToPage(name) { return this.load(() => this.page.goto(this.address(name))); }
    async load(open) {
        const kept = await this.evaluate(KEPT);
        await open();
        for (let lost = 0; kept && lost < MOST_LOST && await this.evaluate("window.foundKept") !== kept; lost++) {
            await this.evaluate((entries) => {
                localStorage.clear();
                entries.forEach(([name, value]) => localStorage.setItem(name, value));
            }, JSON.parse(kept));
            await open();
        }
    }
    async press(key, times = 1) {
        for (let i = 0; i < times; i++)
            await this.page.keyboard.press(key);
    }
    // Which card is seen, and what its count says.
    place() {
        return this.page.evaluate(() => {
            const seen = Array.from(document.querySelectorAll(".card")).filter((card) => card.checkVisibility());
            const count = document.querySelector("#count");
            return seen.map((card) => card.id).join() + (count.checkVisibility() ? " " + count.textContent : "");
        });
    }
    evaluate(...given) { return this.page.evaluate(...given); }
    // By the list of all steps.
    async goTo(id) {
        await this.page.click("#open-list");
        const at = await this.evaluate((wanted) =>
            Array.from(document.querySelectorAll(".card")).findIndex((card) => card.id === wanted), id);
        await this.page.locator(".entries button").nth(at).click();
        if (await this.page.locator("#ask").isVisible())
            await this.page.click("#forget");
        assert.match(await this.place(), new RegExp("^" + id + "( |$)"));
    }
    // Past what is read before the step is done.
    async throughPages() {
        while (await this.page.textContent("#go") === "Next page")
            await this.press("PageDown");
    }
    // The ids of all steps of so many turns or more, told in one count.
    winds(least) {
        return this.page.evaluate((turns) => Array.from(document.querySelectorAll(".step[data-turns]:not(.leg)"))
            .filter((step) => Number(step.dataset.turns) >= turns).map((step) => step.id), least);
    }
    // To a step of so many turns or more, so far through the sheet; gives its id.
    async goToWind(least, share = 1 / 2) {
        const winds = await this.winds(least), id = winds[Math.floor(winds.length * share)];
        await this.goTo(id);
        await this.throughPages();
        return id;
    }
    // To the leg so many after the sheet's first that is counted; gives its id.
    async goToLeg(after = 2) {
        const id = await this.evaluate((at) => Array.from(document.querySelectorAll(".leg")).filter((leg) =>
            leg.matches("[data-turns]") || leg.querySelector("[data-turns]"))[at].id, after);
        await this.goTo(id);
        await this.throughPages();
        return id;
    }
    // What everybody cannot read or reach, of the whole page or of what a selector finds.
    async accessibilityFaults(selector) {
        if (!await this.evaluate(() => "axe" in window))
            await this.evaluate(axe);
        return this.evaluate(async (within) => (await window.axe.run(within || document, { resultTypes: ["violations"] })).violations.map((fault) =>
            fault.id + ": " + fault.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(", ")), selector);
    }
    picture(name) { return this.page.screenshot({ path: folder + "/" + name + ".png" }); }
    async close() {
        await this.context.close();
        assert.deepEqual(this.faults, []);
    }
}

// What is counted in each step: once, or at several of its actions.
export const stepTotals = (selector) => Array.from(document.querySelectorAll(selector), (step) => {
    const actions = Array.from(step.querySelectorAll(".actions > [data-turns]"));
    return (actions.length ? actions : [step]).reduce((sum, counted) => sum + Number(counted.dataset.turns || 0), 0);
});
