// Runs the tests of the page. One line a failure, then the count.
// Arguments: the folder with the pages; the names of those of examples; a part of the names of the tests that shall run, or all. CHROMIUM is the browser's path.
import { chromium } from "playwright-core";
import { tests } from "./bench.mjs";
import "./sheet.mjs";
import "./presses.mjs";
import "./schemes.mjs";
import "./sizes.mjs";
import "./job.mjs";
import "./turning.mjs";

// NULL if it passes. Where the machine is busy the browser itself now and then fails a run: of two one passes then. What is
// wrong with a page fails both.
async function faultOf(run, browser) {
    try {
        await run(browser);
        return null;
    } catch (error) {
        return error;
    }
}

async function main() {
    const browser = await chromium.launch({
        executablePath: process.env.CHROMIUM,
        args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync"]
    });
    const only = process.argv[4];
    let passed = 0, failed = 0;
    for (const { name, run } of tests) {
        if (only && !name.includes(only))
            continue;
        let error = await faultOf(run, browser);
        if (error) {
            console.log("once more: " + name + ": " + String(error.message).split("\n")[0]);
            error = await faultOf(run, browser);
        }
        if (error) {
            failed++;
            console.log("FAILED  " + name + "\n        " + String(error.stack).split("\n").slice(0, 14).join("\n        "));
        } else
            passed++;
    }
    await browser.close();
    console.log(`${passed} passed, ${failed} failed`);
    process.exitCode = failed ? 1 : 0;
}
await main();
