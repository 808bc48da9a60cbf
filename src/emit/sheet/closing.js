/* Dialogs that close. The browser tells of it a moment later, when the builder may be in a field already or in another
   dialog: what follows on it, the event "shut", is done at once. Only where the browser closes one by itself, without
   asking the page, it comes as late as it is told. */
const toBeTold = new Map(all("dialog").map((dialog) => [dialog, 0]));
function isShut(dialog) {
    if (document.activeElement && !find("dialog[open]"))
        document.activeElement.blur();
    dialog.dispatchEvent(new Event("shut"));
}
function shut(dialog) {
    dialog.close();
    toBeTold.set(dialog, toBeTold.get(dialog) + 1);
    isShut(dialog);
}
toBeTold.forEach((_, dialog) => {
    dialog.addEventListener("cancel", (event) => {
        if (event.target !== dialog)   /* a file was not chosen */
            return;
        event.preventDefault();
        shut(dialog);
    });
    dialog.addEventListener("close", () => {
        if (toBeTold.get(dialog))
            toBeTold.set(dialog, toBeTold.get(dialog) - 1);
        else
            isShut(dialog);
    });
});
