// The bench sheet's page, driven as a builder would.
import assert from "node:assert/strict";
import { Bench, folder, phone, stepTotals, tablet, test } from "./bench.mjs";

test("a whole wrap is stepped through by keys alone", async (browser) => {
    const bench = await Bench.open(browser, "hostile");
    const turns = await bench.evaluate(stepTotals, ".step");
    const cards = await bench.evaluate(() => document.querySelectorAll(".card").length);
    const keys = ["ArrowRight", "PageDown", " ", "Enter"];
    const seen = new Set();
    let presses = 0, pages = 0;
    for (; (await bench.place()) !== "end" && presses < 10000; presses++) {
        seen.add((await bench.place()).split(" ")[0]);
        pages += await bench.page.textContent("#go") === "Next page";
        await bench.press(keys[presses % keys.length]);
    }
    assert.equal(seen.size, cards - 1);
    assert.equal(presses, turns.reduce((sum, count) => sum + count, 0) + pages + cards - 1);
    await bench.press(" ");
    assert.equal(await bench.place(), "end");
    await bench.close();
});

test("every turn of the plan is counted", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const runs = await bench.evaluate(() => Array.from(document.querySelectorAll(".run > title"), (title) =>
        Number((/, (\d+) turns?,/.exec(title.textContent) || [0, 0])[1])));
    const turns = await bench.evaluate(stepTotals, ".step:not(.leg)");
    const sum = (numbers) => numbers.reduce((total, number) => total + number, 0);
    assert.ok(sum(turns) > 1000);
    assert.equal(sum(turns), sum(runs));
    await bench.close();
});

test("a place's card is one press away, and whole on a phone", async (browser) => {
    const bench = await Bench.open(browser, "harbour", { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true });
    const places = await bench.evaluate(() => Array.from(document.querySelectorAll(".part[data-card]"), (part) =>
        [part.querySelector(".step").id, document.querySelector("#" + part.dataset.card + " h3").textContent]));
    assert.ok(places.length > 6);
    assert.equal(new Set(places.map(([, heading]) => heading)).size, 5);   // both feet of a guide share one
    for (const [step, heading] of places) {
        await bench.goTo(step);
        await bench.page.click("#open-card");
        const shown = await bench.evaluate(() => {
            const box = document.querySelector("#card-shown"), numbers = (selector) =>
                Array.from(box.querySelectorAll(selector), (each) => Number(each.textContent));
            return {
                heading: document.querySelector("#card-heading").textContent,
                over: box.scrollHeight - box.clientHeight, wide: box.scrollWidth - box.clientWidth,
                strip: numbers(".strip text"), lines: numbers(".line-number").length,
                layers: box.querySelectorAll(".layer").length
            };
        });
        assert.equal(shown.heading, heading);
        assert.equal(shown.wide, 0);
        assert.ok(shown.over <= 0, heading + " goes on below by " + shown.over);
        assert.equal(shown.strip.length, shown.lines);
        assert.ok(shown.layers > 0);
        const before = await bench.place();
        await bench.press("ArrowRight");                                     // no step is taken behind it
        assert.equal(await bench.place(), before);
        await bench.page.click("#close-card");
        assert.equal(await bench.evaluate(() => document.querySelector("#card").open), false);
    }
    await bench.close();
});

test("the present turns are lit up, what lies ahead is not", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    await bench.goToWind(5, 1 / 5);
    const lit = await bench.evaluate(() => {
        const step = document.querySelector(".step.now"), run = document.getElementById(step.dataset.run);
        const frame = document.querySelector(".frame").getBoundingClientRect(), whole = run.getBoundingClientRect();
        const turns = {
            left: whole.left + whole.width * step.dataset.from, right: whole.left + whole.width * step.dataset.to,
            top: whole.top, bottom: whole.bottom
        };
        const before = Array.from(document.querySelectorAll("[data-run]")).filter((other) =>
            other.compareDocumentPosition(step) & Node.DOCUMENT_POSITION_FOLLOWING).map((other) => other.dataset.run);
        const svg = run.closest("svg").getBoundingClientRect();
        const count = (state) => document.querySelectorAll(".run[data-state=" + state + "]").length;
        return {
            state: run.dataset.state, before: new Set(before.filter((id) => id !== run.id)).size, present: count("present"), done: count("done"), ahead: count("ahead"), unseen: count("unseen"),
            framed: frame.left <= turns.left && frame.right >= turns.right && frame.top <= turns.top && frame.bottom >= turns.bottom,
            inside: turns.left >= svg.left && turns.right <= svg.right && turns.top >= svg.top && turns.bottom <= svg.bottom
        };
    });
    assert.equal(lit.state, "present");
    assert.equal(lit.present, 1);
    assert.ok(lit.before > 10 && lit.done === lit.before);
    assert.ok(lit.ahead > 0 && lit.unseen > 5);
    assert.ok(lit.framed && lit.inside);
    await bench.picture("lit");
    await bench.close();
});

test("a leg of a crosswrap counts its crossings and lights up its strands, whole and without a frame", async (browser) => {
    const bench = await Bench.open(browser, "crosswraps_held");
    const id = await bench.goToLeg();
    assert.match(await bench.place(), new RegExp("^" + id + " 0 of 7 crossings"));
    assert.equal(await bench.page.textContent("#go"), "Count 1 crossing");
    await bench.press("ArrowRight", 2);
    assert.match(await bench.place(), new RegExp("^" + id + " 2 of 7 crossings"));
    await bench.page.click("[data-batch='5']");
    const lit = await bench.evaluate(() => {
        const group = document.querySelector(".run[data-state=present]");
        const svg = group.closest("svg").getBoundingClientRect();
        const bands = Array.from(document.querySelectorAll(".part.now .step[data-to]"), (step) =>
            document.getElementById(step.dataset.run).getBoundingClientRect());
        return {
            state: group.dataset.state, strands: group.matches(".strands"), frames: document.querySelectorAll(".frame").length,
            present: document.querySelectorAll(".run[data-state=present]").length,
            ahead: document.querySelectorAll(".strands[data-state=ahead]").length,
            whole: bands.length > 0 && bands.every((band) => band.left >= svg.left && band.right <= svg.right)
        };
    });
    assert.deepEqual(lit, { state: "present", strands: true, frames: 0, present: 1, ahead: lit.ahead, whole: true });
    assert.ok(lit.ahead > 0);
    await bench.picture("leg");
    await bench.press("ArrowRight");
    assert.match(await bench.place(), /( 7 of 7 crossings: all counted| 0 of 7 crossings, 7 of 14 in the step)$/);
    await bench.close();
});

test("back takes back press by press what forward did", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    await bench.goToWind(5);
    const trail = [];
    for (let i = 0; i < 25; i++) {
        trail.push(await bench.place());
        await bench.press("ArrowRight");
    }
    assert.equal(new Set(trail).size, trail.length);
    while (trail.length) {
        await bench.press(trail.length % 2 ? "ArrowLeft" : "PageUp");
        assert.equal(await bench.place(), trail.pop());
    }
    await bench.close();
});

test("the place and the count are there again after a reload", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    await bench.goToWind(16);
    await bench.page.click("[data-batch='5']");
    await bench.press(" ", 2);
    const before = await bench.place();
    assert.match(before, / 10 of /);
    await bench.reload();
    assert.equal(await bench.place(), before);
    await bench.press(" ");
    assert.match(await bench.place(), / 15 of /);
    await bench.close();
});

test("another pattern's place is not taken for this one's, nor is rubbish", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    await bench.goToWind(5);
    await bench.goToPage("whole_rod");
    assert.equal(await bench.place(), "start");
    for (const rubbish of ["", "{", "null", "7", "{\"card\":\"nowhere\",\"turns\":3}", "{\"card\":\"r1s2\",\"turns\":\"x\",\"batch\":-4}"]) {
        await bench.evaluate((text) => localStorage.setItem("turnlay-sheet-" + document.body.dataset.key, text), rubbish);
        await bench.reload();
        assert.match(await bench.place(), /^(start|r1s2)( 0 of |$)/);
    }
    await bench.close();
});

test("a chosen batch is counted, its last press only what is left, and undone press by press", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const turnsOf = (step) => bench.evaluate((one) => Number(document.getElementById(one).dataset.turns), step);
    let id;
    for (id of await bench.winds(16))
        if (await turnsOf(id) % 10)
            break;
    await bench.goTo(id);
    const turns = await turnsOf(id);
    assert.notEqual(turns % 10, 0);
    await bench.page.click("[data-batch='10']");
    await bench.press("ArrowRight", Math.ceil(turns / 10));
    assert.equal(await bench.place(), id + " " + turns + " of " + turns + " turns: all counted");
    await bench.page.click("#back");
    assert.equal(await bench.place(), id + " " + (turns - turns % 10) + " of " + turns + " turns");
    await bench.page.click("[data-batch='1']");
    await bench.page.click("#go");
    await bench.page.click("[data-batch='0']");
    await bench.page.click("#go");
    assert.match(await bench.place(), /all counted/);
    await bench.reload();
    for (const left of [turns - turns % 10 + 1, turns - turns % 10, turns - turns % 10 - 10]) {
        await bench.press("ArrowLeft");
        assert.ok((await bench.place()).startsWith(id + " " + left + " of "), left);
    }
    await bench.page.click("#go");
    await bench.page.click("#go");
    assert.ok(!(await bench.place()).startsWith(id + " "));
    await bench.close();
});

test("a pedal press after a tap goes forward, whatever was tapped", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    for (const key of [" ", "Enter"])
        for (const button of ["#back", "#go", "[data-batch='1']"]) {
            await bench.goToWind(5);
            await bench.press("ArrowRight", 2);
            await bench.page.locator(button).click();
            const tapped = await bench.place();
            await bench.press(key);
            const pressed = await bench.place();
            assert.notEqual(pressed, tapped);
            await bench.press("ArrowLeft");
            assert.equal(await bench.place(), tapped, button + " then " + key);
        }
    await bench.page.click("#open-list");
    await bench.page.click("#close-list");
    const closed = await bench.place();
    await bench.press(" ");
    assert.notEqual(await bench.place(), closed);
    assert.ok(!(await bench.evaluate(() => document.querySelector("#list").open)));
    await bench.close();
});

test("a control reached by Tab is pressed by space or Enter, once", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const id = await bench.goToWind(5);
    await bench.press("ArrowRight", 2);
    await bench.page.locator("#back").focus();
    await bench.press("Enter");
    assert.ok((await bench.place()).startsWith(id + " 1 of "));
    await bench.press("Enter");
    assert.ok((await bench.place()).startsWith(id + " 2 of "));
    await bench.page.locator("[data-batch='10']").focus();
    await bench.press(" ");
    assert.equal(await bench.page.getAttribute("[data-batch='10']", "aria-pressed"), "true");
    await bench.close();
});

test("held keys and keys with modifiers do nothing", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    await bench.goToWind(5);
    await bench.page.keyboard.down("ArrowRight");
    const once = await bench.place();
    for (let i = 0; i < 5; i++)
        await bench.page.keyboard.down("ArrowRight");   // playwright marks these as repeats
    assert.equal(await bench.place(), once);
    await bench.page.keyboard.up("ArrowRight");
    for (const keys of ["Shift+ArrowRight", "Control+Enter", "Alt+PageDown", "Shift+Space", "Meta+ArrowLeft"])
        await bench.press(keys);
    assert.equal(await bench.place(), once);
    await bench.close();
});

test("the list of all steps jumps, and keys in it move nothing else", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const id = await bench.goToWind(5);
    await bench.page.click("#open-list");
    const before = await bench.place();
    await bench.press("ArrowRight", 3);
    assert.equal(await bench.place(), before);
    assert.equal(await bench.page.locator(".entries button").count(), await bench.page.locator(".card").count());
    assert.ok((await bench.evaluate(() => document.activeElement.textContent)).startsWith(id.replace("r1s", "")));
    await bench.picture("list");
    await bench.press("Tab");
    await bench.press("Enter");
    assert.match(await bench.place(), new RegExp("^r1s" + (Number(id.replace("r1s", "")) + 1) + "( |$)"));
    await bench.close();
});

test("taps alone will do", async (browser) => {
    const bench = await Bench.open(browser, "hostile", phone);
    const cards = await bench.page.locator(".card").count();
    for (let taps = 0; taps < cards * 20 && (await bench.place()) !== "end"; taps++) {
        if (await bench.page.locator("[data-batch='0'][aria-pressed='false']").isVisible())
            await bench.page.tap("[data-batch='0']");
        await bench.page.tap("#go");
    }
    assert.equal(await bench.place(), "end");
    await bench.page.tap("#back");
    assert.notEqual(await bench.place(), "end");
    await bench.close();
});

test("on a phone of 320 px nothing is wider than it, on any card", async (browser) => {
    for (const name of ["harbour", "hostile", "whole_rod", "crosswraps_held"]) {
        const bench = await Bench.open(browser, name, phone, null, { apart: "0", batch: "0" });
        const wide = await bench.evaluate(() => {
            const go = document.querySelector("#go"), found = [];
            const isCut = (element) => element && element !== document.body && (getComputedStyle(element).textOverflow === "ellipsis" ||
                element.matches(".picture, .swatch, .rod > h2, .batches p") || isCut(element.parentElement));
            for (let press = 0; !go.disabled && press < 5000; press++) {
                for (const element of window.displayed(document.body))
                    if (element.matches("body, main, .now, .now *, .bar, .bar *, .top, button") && !isCut(element) &&
                        (element.clientWidth && element.scrollWidth > element.clientWidth + 1 ||
                         element.getBoundingClientRect().right > innerWidth + 1))
                        found.push(document.querySelector(".card.now").id + " " + (element.id || element.className || element.tagName));
                go.click();
            }
            return go.disabled ? found : ["the end was not reached"];
        });
        assert.deepEqual(wide.slice(0, 10), [], name);
        await bench.goToWind(1);
        await bench.picture(name + "-phone");
        await bench.close();
    }
});

test("all buttons are at least 64 px high and wide", async (browser) => {
    for (const options of [tablet, phone]) {
        const bench = await Bench.open(browser, "harbour", options);
        await bench.goToWind(5);
        const small = () => Array.from(document.querySelectorAll("button")).filter((button) => button.checkVisibility())
            .filter((button) => button.offsetWidth < 64 || button.offsetHeight < 64).map((button) => button.textContent);
        assert.deepEqual(await bench.evaluate(small), []);
        await bench.page.click("#open-list");
        assert.deepEqual(await bench.evaluate(small), []);
        await bench.close();
    }
});

test("on paper stand all steps with boxes, rulers and whole pictures, no controls", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const whole = await bench.page.getAttribute(".picture > svg", "viewBox");
    const id = await bench.goToWind(5);
    assert.notEqual(await bench.page.getAttribute(".picture > svg", "viewBox"), whole);
    const hidden = () => [".box", ".ruler", ".write"].filter((selector) =>
        Array.from(document.querySelectorAll(selector)).some((element) => element.checkVisibility()));
    assert.deepEqual(await bench.evaluate(hidden), []);
    await bench.page.emulateMedia({ media: "print" });
    await bench.page.waitForFunction(() => !document.querySelector(".frame"));   // told with the next picture drawn
    const paper = await bench.evaluate(() => {
        const seen = (selector) => Array.from(document.querySelectorAll(selector)).filter((element) => element.checkVisibility());
        return {
            steps: seen(".step").length, all: document.querySelectorAll(".step").length, boxes: seen(".step > .box").length,
            lines: seen(".step > .write").length, codes: seen(".threads .write").length, controls: seen("button, progress, #count").length,
            ruler: document.querySelector(".ruler path").getBoundingClientRect().width, ghosts: document.querySelectorAll(".run[data-state], .frame").length
        };
    });
    assert.equal(paper.steps, paper.all);
    assert.equal(paper.boxes, paper.all);
    assert.ok(paper.lines > 3 && paper.codes === 4);
    assert.equal(paper.controls, 0);
    assert.equal(paper.ghosts, 0);
    assert.ok(Math.abs(paper.ruler - 100 * 96 / 25.4) < 0.5, "the ruler is " + paper.ruler + " px");
    assert.equal(await bench.page.getAttribute(".picture > svg", "viewBox"), whole);
    await bench.picture("paper");
    await bench.page.pdf({ path: folder + "/paper.pdf", format: "A4" });   // to be looked at
    await bench.page.emulateMedia({ media: "screen" });
    await bench.page.waitForFunction(() => document.querySelector(".frame"));
    assert.ok((await bench.place()).startsWith(id + " "));
    assert.notEqual(await bench.page.getAttribute(".picture > svg", "viewBox"), whole);
    await bench.close();
});

test("no accessibility fault in light and dark, on any kind of card", async (browser) => {
    for (const colorScheme of ["light", "dark"])
        for (const [name, cards] of [["harbour", ["start", "r1-cuts", "r1s1", "wind", "end"]], ["hostile", ["start", "wind"]], ["crosswraps_held", ["leg"]]]) {
            const bench = await Bench.open(browser, name, { ...tablet, colorScheme });
            for (const card of [...cards, "list"]) {
                if (card === "list")
                    await bench.page.click("#open-list");
                else if (card === "wind")
                    await bench.goToWind(5);
                else if (card === "leg")
                    await bench.goToLeg();
                else
                    await bench.goTo(card);
                await bench.picture([name, card, colorScheme].join("-"));
                assert.deepEqual(await bench.accessibilityFaults(), [], [name, card, colorScheme].join(" "));
            }
            await bench.close();
        }
});

test("what the builder's texts hold is shown and never run", async (browser) => {
    const bench = await Bench.open(browser, "hostile");
    const page = await bench.evaluate(() => ({
        broken: window.broken, title: document.title, heading: document.querySelector("h1").textContent,
        origin: document.querySelector(".origin").textContent, rod: document.querySelector(".rod > h2").textContent,
        scripts: document.scripts.length, strange: document.querySelectorAll("img, b, iframe, object, link, form").length,
        handlers: Array.from(document.querySelectorAll("*")).filter((element) => element.getAttributeNames().some((name) => name.startsWith("on"))).length,
        script: document.scripts[0].textContent
    }));
    assert.equal(page.broken, undefined);
    assert.equal(page.title, "</title><script>window.broken = 1</script>: bench sheet");
    assert.equal(page.heading, "</title><script>window.broken = 1</script>");
    assert.ok(page.origin.includes("\"><img src=x onerror='window.broken = 2'>"));
    assert.equal(page.rod, "</script><script>window.broken = 3</script> \ufffdgnirts\ufffd 🎣 &amp; <b>x</b>");
    assert.equal(page.scripts, 1);
    assert.equal(page.strange + page.handlers, 0);
    assert.ok(!page.script.includes("broken") && !page.script.includes("moss"));
    await bench.close();
});

test("no two elements share an id, not even of two rods alike", async (browser) => {
    for (const name of ["harbour", "hostile", "whole_rod", "crosswraps_held"]) {
        const bench = await Bench.open(browser, name);
        const twice = await bench.evaluate(() => {
            const ids = Array.from(document.querySelectorAll("[id]"), (element) => element.id);
            return ids.filter((id, at) => ids.indexOf(id) !== at);
        });
        assert.deepEqual(twice, []);
        const lost = await bench.evaluate(() => Array.from(document.querySelectorAll("[data-run]")).filter((step) => {
            const run = document.getElementById(step.dataset.run);
            return !run || run.closest(".rod") !== step.closest(".rod");
        }).length);
        assert.equal(lost, 0);
        await bench.close();
    }
});

test("the page asks for nothing from outside and runs no other script", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    assert.deepEqual(bench.requests, ["file://" + folder + "/harbour.html"]);
    await bench.evaluate(() => {
        const script = document.createElement("script");
        script.textContent = "window.broken = 4";
        document.body.append(script);
        document.body.setAttribute("onclick", "window.broken = 5");
        document.body.click();
    });
    assert.equal(await bench.evaluate(() => window.broken), undefined);
    assert.equal(bench.faults.length, 2);   // the browser says that it refused both
    bench.faults.length = 0;
    await bench.close();
});

test("storage that is blocked or full loses only the memory of the place", async (browser) => {
    const blocked = () => Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } });
    const full = () => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; };
    for (const before of [blocked, full]) {
        const bench = await Bench.open(browser, "harbour", tablet, before);
        const id = await bench.goToWind(5);
        await bench.press(" ");
        assert.ok((await bench.place()).startsWith(id + " 1 of "));
        await bench.reload();
        assert.equal(await bench.place(), "start");
        await bench.close();
    }
});

test("a press right after a step is picked from the list counts", async (browser) => {
    const bench = await Bench.open(browser, "harbour");
    const [id] = await bench.winds(5);
    await bench.page.click("#open-list");
    await bench.evaluate((wanted) => {
        const at = Array.from(document.querySelectorAll(".card")).findIndex((card) => card.id === wanted);
        const entry = document.querySelectorAll(".entries button")[at];
        entry.focus();
        entry.click();      // the list's closing is told later; until then the entry keeps the focus
        document.activeElement.dispatchEvent(new KeyboardEvent("keydown", { key: " ", bubbles: true, cancelable: true }));
    }, id);
    assert.ok((await bench.place()).startsWith(id + " 1 of "));
    await bench.close();
});

test("without scripts the whole sheet stands there", async (browser) => {
    const bench = await Bench.open(browser, "harbour", { ...tablet, javaScriptEnabled: false });
    const shown = (selector) => bench.page.locator(selector + " >> visible=true").count();
    const all = (selector) => bench.page.locator(selector).count();
    for (const selector of [".step", ".step .action", ".caution", ".cuts tbody tr", ".threads > li", ".picture svg .run"]) {
        assert.ok(await all(selector) > 0, selector);
        if (!selector.endsWith(".run"))
            assert.equal(await shown(selector), await all(selector), selector);
    }
    assert.equal(await shown("button"), 0);
    await bench.picture("no-scripts");
    await bench.close();
});

test("threads are named in words at every turn, those alike by pattern too", async (browser) => {
    const bench = await Bench.open(browser, "hostile");
    const nameless = await bench.evaluate(() => Array.from(document.querySelectorAll(".step[data-turns]")).filter((step) =>
        !step.querySelector(".thread bdi").textContent || step.querySelectorAll(".thread .swatch").length !== 1).length);
    assert.equal(nameless, 0);
    const names = await bench.evaluate(() => Array.from(document.querySelectorAll(".threads .name"), (name) => name.textContent));
    assert.deepEqual(names, ["נייבי", "moss (rising lines)", "rust (dots)"]);
    const letters = await bench.evaluate(() => Array.from(document.querySelectorAll(".threads .letters"), (text) => text.textContent));
    assert.deepEqual(letters, ["נ", "m", "r"]);
    const hatched = await bench.evaluate(() => document.querySelectorAll(".threads .swatch path").length);
    assert.equal(hatched, 4);
    await bench.close();
});

test("the screen is kept on, and again when the page comes back", async (browser) => {
    const count = () => {
        window.asked = 0;
        Object.defineProperty(navigator, "wakeLock", { value: {
            request: async (kind) => { window.asked += kind === "screen" ? 1 : 100; return window.lock = { released: false }; }
        } });
    };
    const bench = await Bench.open(browser, "harbour", tablet, count);
    assert.equal(await bench.evaluate(() => window.asked), 1);
    await bench.page.click("#go");
    assert.equal(await bench.evaluate(() => window.asked), 1);
    await bench.evaluate(() => { window.lock.released = true; document.dispatchEvent(new Event("visibilitychange")); });
    assert.equal(await bench.evaluate(() => window.asked), 2);
    await bench.close();
    const refused = await Bench.open(browser, "harbour", tablet, () =>
        Object.defineProperty(navigator, "wakeLock", { value: { request: async () => { throw new DOMException("no", "NotAllowedError"); } } }));
    await refused.press(" ", 5);
    assert.notEqual(await refused.place(), "start");
    await refused.close();
});

test("the step is told to a screen reader, and nothing moves for those who want it still", async (browser) => {
    const bench = await Bench.open(browser, "harbour", { ...tablet, reducedMotion: "reduce" });
    const id = await bench.goToWind(5);
    const told = () => bench.page.textContent("#say");
    await bench.goTo("start");
    await bench.goTo(id);
    const action = await bench.evaluate((card) => document.querySelector("#" + card + " > .action").textContent, id);
    assert.ok((await told()).startsWith("Step " + id.replace("r1s", "")) && (await told()).endsWith(". " + action), await told());
    await bench.throughPages();
    assert.equal(await bench.page.getAttribute("#say", "aria-live"), "polite");
    await bench.press(" ");
    assert.match(await told(), /^1 of \d+ turns?$/);
    const moving = await bench.evaluate(() => Array.from(document.querySelectorAll("*")).filter((element) => {
        const style = getComputedStyle(element);
        return style.animationName !== "none" || parseFloat(style.transitionDuration) > 0;
    }).length);
    assert.equal(moving, 0);
    await bench.close();
});
