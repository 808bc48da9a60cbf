// A place turned round the rod's axis: what the page makes of the surface is the program's own picture from that side.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { Bench, folder, tablet, test } from "./bench.mjs";

const turnlay = folder + "/../turnlay", pattern = "tests/browser/turned.lay";
const handset = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true };
const sideView = (angle) => execFileSync(turnlay, ["draw", "--view", "side", "--scale", "3", "--turn", String(angle), pattern],
    { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 }).toString();

// When the frame that was asked for is there: two frames on, all that was asked for before has been painted.
const painted = (bench) => bench.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve()))));
const placesTurned = (bench) => bench.evaluate(() => Array.from(document.querySelectorAll("template[data-outline]"), (template) => template.id));
const toPlace = async (bench, id) => bench.goTo(await bench.evaluate((round) => document.querySelector(".part[data-round='" + round + "'] .step").id, id));
async function openTurned(bench, id) {
    await toPlace(bench, id);
    await bench.page.click("#open-card");
    await bench.page.click("#turn-card");
    await painted(bench);
}
async function closeTurned(bench) {
    await bench.page.click("#close-round");
    await bench.page.waitForSelector("#round", { state: "hidden" });
}
const angle = async (bench) => Number(await bench.page.getAttribute("#turned", "aria-valuenow"));
// By keys alone, to the degree.
async function turnTo(bench, wanted) {
    await bench.page.focus("#turned");
    await bench.press("Home");
    await bench.press("PageUp", Math.floor(wanted / 45));
    await bench.press("ArrowUp", wanted % 45 / 5);
    assert.equal(await angle(bench), wanted);
    await painted(bench);
}
const canvasOf = (bench) => bench.evaluate(() => document.querySelector("#turned canvas").toDataURL());

// How much of a grid of places on the rod has a colour on the page's canvas that lies not between those that the program's
// picture has within a pixel of there. Run in a page of its own. The rod's outline is taken from what the page holds of it; a place's light
// lies on one axis, from end to end, and that of the next place below it.
async function unlike({ canvas, svg, at, outline, size }) {
    const TOLERANCE = 10, MOST = 200, numbers = outline.split(" ").map(Number);
    const points = numbers.filter((_, each) => each % 2 === 0).map((x, each) => ({ x, half: numbers[2 * each + 1] }));
    const read = async (source) => {
        const image = new Image();
        image.src = source;
        await image.decode();
        return image;
    };
    const taken = await read(canvas), pen = new OffscreenCanvas(taken.width, taken.height).getContext("2d");
    pen.drawImage(taken, 0, 0);
    const { width, height, data } = pen.getImageData(0, 0, taken.width, taken.height), middle = Math.floor(height / 2);
    /* Left and right of the rod are the marks of its line, with a gap between. */
    const isRod = (x) => data[(middle * width + x) * 4 + 3] === 255 && data[(middle * width + x + (x < width / 2 ? 1 : -1)) * 4 + 3] === 255;
    let left = Math.floor(width / 2), right = left;
    while (left > 0 && isRod(left - 1))
        left--;
    while (right < width - 1 && isRod(right + 1))
        right++;
    const columns = right - left + 1, pixels = columns / size;
    document.body.innerHTML = svg.slice(svg.indexOf("<svg"));
    const places = [];
    for (const path of document.querySelectorAll("path[fill*='cylinder']:not([fill*='glint'])")) {
        const box = path.getBBox(), axis = box.y + box.height / 2, last = places.at(-1);
        if (last && Math.abs(last.axis - axis) < 1)
            last.right = Math.max(last.right, box.x + box.width);
        else
            places.push({ left: box.x, right: box.x + box.width, axis });
    }
    const place = places[at], scale = columns / (place.right - place.left), whole = document.querySelector("svg").viewBox.baseVal;
    const drawing = new OffscreenCanvas(columns, MOST).getContext("2d");
    drawing.drawImage(await read("data:image/svg+xml;base64," + btoa(unescape(encodeURIComponent(svg)))),
        -place.left * scale, MOST / 2 - place.axis * scale, whole.width * scale, whole.height * scale);
    const drawn = drawing.getImageData(0, 0, columns, MOST).data;
    const codes = (of, across, x, y) => of.subarray((y * across + x) * 4, (y * across + x) * 4 + 3);
    let off = 0, count = 0;
    for (let x = 2; x < columns - 2; x += 7) {
        const along = (x + 0.5) / pixels, next = Math.max(points.findIndex((point) => point.x > along), 1), from = points[next - 1], to = points[next];
        const half = (from.half + (to.half - from.half) * (along - from.x) / (to.x - from.x)) * pixels;
        for (let turn = -72; turn <= 72; turn += 8) {
            const down = half * Math.sin(turn * Math.PI / 180), own = codes(data, width, left + x, Math.floor(height / 2 + down));
            const near = [-1, 0, 1].flatMap((dx) => [-1, 0, 1].map((dy) => codes(drawn, columns, x + dx, Math.floor(MOST / 2 + down) + dy)));
            count++;
            off += own.some((code, part) => code < Math.min(...near.map((other) => other[part])) - TOLERANCE ||
                code > Math.max(...near.map((other) => other[part])) + TOLERANCE);
        }
    }
    return { off: off / count, count, places: places.length };
}

test("a place turned to any angle is the picture that the program draws from there", async (browser) => {
    const bench = await Bench.open(browser, "turned", tablet), ids = await placesTurned(bench), reader = await bench.context.newPage();
    assert.deepEqual(ids, ["r1a0", "r1a1", "r1a2", "r1a3"]);
    await bench.page.bringToFront();
    for (const [at, id] of ids.entries()) {
        const held = await bench.evaluate((round) => {
            const template = document.getElementById(round);
            return { outline: template.dataset.outline, size: template.content.querySelector("svg").viewBox.baseVal.width };
        }, id);
        await openTurned(bench, id);
        if (await bench.page.isVisible("#round-near"))
            await bench.page.click("#round-near");
        for (const wanted of [0, 95, 180, 250]) {
            await turnTo(bench, wanted);
            const given = { ...held, at, canvas: await canvasOf(bench) };
            const { off, count, places } = await reader.evaluate(unlike, { ...given, svg: sideView(wanted) });
            assert.equal(places, ids.length);
            assert.ok(count > 1000 && off < 0.002, id + " at " + wanted + ": " + off);
            if (wanted !== 95 || at === 3)   // a fade looks alike from all sides
                continue;
            const other = await reader.evaluate(unlike, { ...given, svg: sideView(wanted + 8) });
            assert.ok(other.off > 0.03, id + ": 8 degrees on it is another picture: " + other.off);
        }
        await bench.picture("turned-" + id);
        await closeTurned(bench);
    }
    await bench.close();
});

test("it is turned by keys, by hand and by buttons, and says in degrees which side faces one", async (browser) => {
    const bench = await Bench.open(browser, "turned", handset);
    await openTurned(bench, "r1a1");
    const held = await bench.evaluate(() => {
        const slider = document.activeElement;
        return [slider.id, slider.getAttribute("role"), slider.getAttribute("aria-label"), slider.getAttribute("aria-valuemin"), slider.getAttribute("aria-valuemax")];
    });
    assert.ok(!(await bench.page.isVisible("#round-guide")));
    assert.deepEqual(held, ["turned", "slider", "The rod, turned round its axis", "0", "359"]);
    assert.equal(await angle(bench), 90);   // as its place says: where its crossings lie
    for (const [key, wanted, words] of [["Home", 0, "The rod's line faces you"], ["ArrowUp", 5, "The rod's line is above"], ["ArrowRight", 10, "The rod's line is above"],
        ["ArrowDown", 5, "The rod's line is above"], ["ArrowLeft", 0, "The rod's line faces you"], ["ArrowLeft", 355, "The rod's line is below"], ["PageDown", 310, "The rod's line is below"],
        ["PageDown", 265, "The rod's line is below, on the far side"], ["End", 180, "The rod's line is on the far side"], ["PageUp", 225, "The rod's line is below, on the far side"]]) {
        await bench.press(key);
        assert.equal(await angle(bench), wanted, key);
        assert.equal(await bench.page.getAttribute("#turned", "aria-valuetext"), wanted + " degrees faces you. " + words);
        assert.equal(await bench.page.textContent("#round-says"), wanted + " deg faces you. " + words + ".");
    }
    for (const [name, wanted] of [["Turn up", 240], ["Turn down", 225], ["Far side", 45], ["Rod's line", 0]]) {
        await bench.page.getByRole("button", { name, exact: true }).click();
        assert.equal(await angle(bench), wanted, name);
    }
    /* What lies under the finger goes with it: the whole of the half that is seen, for a way of the rod's half times pi. */
    const half = await bench.evaluate(() => {
        const canvas = document.querySelector("#turned canvas"), pen = canvas.getContext("2d"), data = pen.getImageData(canvas.width >> 1, 0, 1, canvas.height).data;
        return Array.from({ length: canvas.height }, (_, y) => data[y * 4 + 3]).filter(Boolean).length / 2 / (canvas.width / canvas.clientWidth);
    });
    const box = await bench.page.locator("#turned").boundingBox(), middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    await bench.page.mouse.move(middle.x, middle.y);
    await bench.page.mouse.down();
    await bench.page.mouse.move(middle.x, middle.y - 10);
    await bench.page.mouse.move(middle.x, middle.y - half);
    await bench.page.mouse.up();
    assert.ok(Math.abs(await angle(bench) - 180 / Math.PI) < 2, "upward by the rod's half is a radian: " + await angle(bench));
    await bench.page.mouse.move(middle.x, middle.y + 20);
    assert.ok(Math.abs(await angle(bench) - 180 / Math.PI) < 2, "a hand that has let go turns nothing");
    const along = () => bench.evaluate(() => document.querySelector("#turned").scrollLeft);
    const first = await along();
    await bench.page.getByRole("button", { name: "To tip" }).click();
    assert.ok(await along() > first);
    await bench.page.getByRole("button", { name: "To butt" }).click();
    await bench.page.getByRole("button", { name: "To butt" }).click();
    assert.ok(await along() < first);
    await bench.page.getByRole("button", { name: "Near by" }).click();
    assert.ok(await bench.page.locator("[data-along]").first().isDisabled(), "all of it is seen");
    await bench.close();
});

test("of a guide it is the guide that is marked, and both of its feet turn as one", async (browser) => {
    const bench = await Bench.open(browser, "tides", handset);
    const steps = await bench.evaluate(() => {
        const { id } = document.querySelector("template[data-guide]");
        return Array.from(document.querySelectorAll(".part[data-wrap][data-round='" + id + "']"), (part) => part.querySelector(".step").id);
    });
    assert.equal(steps.length, 2);
    for (const step of steps) {
        await bench.goTo(step);
        await bench.page.click("#open-card");
        await bench.page.click("#turn-card");
        await bench.press("ArrowUp", 2);
        assert.equal(await bench.page.getAttribute("#turned", "aria-valuetext"), "10 degrees faces you. The guide is above");
        assert.ok(await bench.page.isVisible("#round-guide"));
        await bench.page.getByRole("button", { name: "Guide", exact: true }).click();
        assert.equal(await bench.page.textContent("#round-says"), "0 deg faces you. The guide faces you.");
        await closeTurned(bench);
    }
    await bench.close();
});

test("turning it takes nothing from the job at the bench, and Escape goes back there", async (browser) => {
    for (const opens of ["#turn-card", ".picture.now .turn-it"]) {
        const bench = await Bench.open(browser, "turned", { viewport: { width: 1180, height: 1400 } });   // the picture has room
        await bench.goToWind(5, 0);
        const before = await bench.place();
        if (opens === "#turn-card")
            await bench.page.click("#open-card");
        await bench.page.click(opens);
        await painted(bench);
        await bench.press("PageDown", 2);
        await bench.press("Enter");
        await bench.press(" ");
        assert.equal(await bench.place(), before, "a pedal turns the rod, and no step");
        await bench.press("Escape");
        await bench.page.waitForSelector("#round", { state: "hidden" });
        await bench.page.waitForFunction(() => document.activeElement === document.body);
        await bench.press("PageDown");
        assert.notEqual(await bench.place(), before, "then it goes forward again");
        await bench.close();
    }
});

test("a frame is one sum a pixel and two pictures, whatever is turned, and several drags in one are one", async (browser) => {
    const bench = await Bench.open(browser, "turned", handset, () => {
        window.drawn = { calls: {}, frames: [] };
        for (const name of ["putImageData", "drawImage", "getImageData", "fill", "stroke", "clip"]) {
            const own = CanvasRenderingContext2D.prototype[name];
            CanvasRenderingContext2D.prototype[name] = function (...given) {
                window.drawn.calls[name] = (window.drawn.calls[name] || 0) + 1;
                if (name === "putImageData")
                    window.drawn.pixels = given[0].width * given[0].height;
                return own.apply(this, given);
            };
        }
        const later = window.requestAnimationFrame;
        window.requestAnimationFrame = (paint) => later((time) => {
            const begun = performance.now();
            paint(time);
            window.drawn.frames.push(performance.now() - begun);
        });
    });
    for (const id of await placesTurned(bench)) {
        await openTurned(bench, id);
        const work = await bench.evaluate(async () => {
            const turned = document.querySelector("#turned"), key = (name) => turned.dispatchEvent(new KeyboardEvent("keydown", { key: name, cancelable: true }));
            const times = [];
            for (let frame = 0; frame < 24; frame++) {
                Object.assign(window.drawn, { calls: {}, frames: [] });
                for (let drag = 0; drag < 3; drag++)
                    key("ArrowUp");
                await new Promise((resolve) => window.requestAnimationFrame(resolve));
                times.push(window.drawn.frames[0]);
            }
            return { ...window.drawn, times: times.sort((one, other) => one - other) };
        });
        const { calls: { putImageData, drawImage, getImageData = 0, clip = 0, fill = 0, stroke = 0 }, pixels, times } = work;
        assert.deepEqual([putImageData, drawImage, getImageData, clip], [1, 1, 0, 0], id);
        assert.ok(fill + stroke <= 4, "the marks of the rod's line");
        assert.ok(pixels > 50000 && pixels <= 390 * 2 * 844 * 0.3 * 2, "no more pixels than the screen has room for: " + pixels);
        console.log("turned   " + id + ": " + pixels + " pixels a frame, " + times[12].toFixed(1) + " ms at the median, " + times.at(-1).toFixed(1) + " at most");
        await closeTurned(bench);
    }
    await bench.close();
});

test("what is turned asks for nothing, is no part of the paper, and is read by everyone", async (browser) => {
    for (const colorScheme of ["light", "dark"]) {
        const bench = await Bench.open(browser, "turned", { ...handset, colorScheme, reducedMotion: "reduce" });
        await openTurned(bench, "r1a0");
        const cut = await bench.evaluate(() => Array.from(document.querySelectorAll("#round button")).filter((button) => {
            const box = button.getBoundingClientRect();
            return box.width < 64 || box.height < 64 || box.bottom > innerHeight || button.scrollWidth > button.clientWidth + 1;
        }).map((button) => button.textContent));
        assert.deepEqual(cut, []);
        assert.deepEqual(await bench.accessibilityFaults("#round"), []);
        await bench.picture("turning-" + colorScheme);
        assert.equal(bench.requests.length, 1);
        await bench.page.emulateMedia({ media: "print" });
        assert.equal(await bench.evaluate(() => Array.from(document.querySelectorAll("#round, .turn-it, template")).filter((element) => element.checkVisibility()).length), 0);
        await bench.close();
    }
});

test("a wrap of too many parts is left as it is, and the page says what draws it", async (browser) => {
    const source = folder + "/many.lay";
    writeFileSync(source, readFileSync(pattern, "utf8").replace("crossings: 3 pointing: tip", "crossings: 94 starts: 12 pointing: tip").replaceAll("turns: 60 per cm, colour", "turns: 400 per cm, colour")
        .replace("strand 5 of shell  strand 2 of coral", "strand 1 of shell  strand 1 of coral  ".repeat(10)));
    execFileSync(turnlay, ["sheet", "-o", folder + "/many.html", source], { stdio: "ignore" });
    const bench = await Bench.open(browser, "many", handset);
    assert.ok(!(await placesTurned(bench)).includes("r1a0"));
    await openTurned(bench, "r1a0");
    assert.ok(await bench.page.isVisible("#round-none") && !(await bench.page.isVisible("#turned")));
    assert.match(await bench.page.textContent("#round-none"), /turnlay draw --view side --turn 90/);
    await closeTurned(bench);
    await bench.close();
});
