/* What the builder has chosen, for every sheet. The choices, and what a page begins with, are those of its form. */
const settings = find("#settings");
const choices = all("input", settings);
const SETTINGS = "turnlay-sheet-settings";

const chosen = (name) => choices.find((input) => input.name === name && input.checked).value;

function applySettings() {
    document.documentElement.dataset.scheme = chosen("scheme");
}
function recallSettings() {
    const saved = readSaved(SETTINGS);
    for (const input of choices)
        if (saved[input.name] === input.value)
            input.checked = true;
    applySettings();
}
settings.addEventListener("change", () => {
    save(SETTINGS, Object.fromEntries(choices.filter((input) => input.checked).map((input) => [input.name, input.value])));
    applySettings();
});
