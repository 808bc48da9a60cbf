// Light and dark: by the device, or as the settings say; a dark page has no bright patch, nor has its picture.
import assert from "node:assert/strict";
import { Bench, tablet, test } from "./bench.mjs";

// Mean relative luminance (WCAG 2.2, section 6) of what is seen, and the share of it that is lighter than half; of the
// whole screen, or within a box of it. The picture that the browser took is read by the browser.
async function light(bench, box) {
    const taken = (await bench.page.screenshot({ clip: box })).toString("base64");
    const reader = await bench.context.newPage();
    const seen = await reader.evaluate(async (bytes) => {
        const image = new Image();
        image.src = "data:image/png;base64," + bytes;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height), pen = canvas.getContext("2d");
        pen.drawImage(image, 0, 0);
        const { data } = pen.getImageData(0, 0, image.width, image.height);
        const linear = Array.from({ length: 256 }, (_, code) => code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4);
        let sum = 0, bright = 0;
        for (let at = 0; at < data.length; at += 4) {
            const luminance = 0.2126 * linear[data[at]] + 0.7152 * linear[data[at + 1]] + 0.0722 * linear[data[at + 2]];
            sum += luminance;
            bright += luminance > 0.5;
        }
        return { mean: sum * 4 / data.length, bright: bright * 4 / data.length };
    }, taken);
    await reader.close();
    return seen;
}
const pictureBox = (bench) => bench.page.locator(".picture.now").boundingBox();

async function choose(bench, scheme) {
    await bench.page.click("#open-list");
    await bench.page.click("#open-settings");
    await bench.page.check("input[name='scheme'][value='" + scheme + "']");
    await bench.page.click("#close-settings");
}

test("the page is light or dark as the device is, or as the settings say, the picture too, and stays so", async (browser) => {
    for (const device of ["light", "dark"]) {
        const bench = await Bench.open(browser, "harbour", { ...tablet, colorScheme: device });
        await bench.goToWind(5);
        const check = async (scheme) => {
            await bench.throughPages();
            const page = await light(bench), picture = await light(bench, await pictureBox(bench));
            if (scheme === "dark") {
                assert.ok(page.mean < 0.1 && page.bright < 0.1, JSON.stringify(page));
                assert.ok(picture.mean < 0.1 && picture.bright < 0.02, JSON.stringify(picture));
            } else {
                assert.ok(page.mean > 0.6 && picture.mean > 0.4, JSON.stringify([page, picture]));
            }
        };
        await check(device);
        for (const scheme of ["light", "dark", "system"]) {
            await choose(bench, scheme);
            await check(scheme === "system" ? device : scheme);
            await bench.reload();
            await check(scheme === "system" ? device : scheme);
            await bench.picture("scheme-" + scheme + "-on-" + device);
        }
        await bench.close();
    }
});

test("the rod stands out from a dark picture by a rim, and what is wound now by a frame", async (browser) => {
    const bench = await Bench.open(browser, "harbour", tablet, null, { apart: "0", scheme: "dark" });
    await bench.goToWind(5);
    const drawn = await bench.evaluate(() => {
        const figure = document.querySelector(".picture.now"), svg = figure.querySelector("svg");
        return { rim: getComputedStyle(svg).filter, paper: getComputedStyle(svg.querySelector(":scope > path")).fill,
            ground: getComputedStyle(figure).backgroundColor, frame: getComputedStyle(figure.querySelector(".frame.inner")).stroke };
    });
    assert.match(drawn.rim, /drop-shadow/);
    assert.equal(drawn.paper, "none");
    assert.notEqual(drawn.frame, drawn.ground);
    await bench.close();
});

test("on paper a dark page is black on white", async (browser) => {
    const bench = await Bench.open(browser, "harbour", { ...tablet, colorScheme: "dark" }, null, { apart: "0", scheme: "dark" });
    await bench.page.emulateMedia({ media: "print" });
    const paper = await bench.evaluate(() => [getComputedStyle(document.body).backgroundColor, getComputedStyle(document.querySelector(".action")).color,
        getComputedStyle(document.querySelector(".picture")).backgroundColor]);
    assert.deepEqual(paper, ["rgb(255, 255, 255)", "rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
    await bench.close();
});
