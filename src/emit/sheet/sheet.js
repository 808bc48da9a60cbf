/* Keys, buttons, paper, and what happens when the page is opened. A foot pedal is a keyboard. */
/* Keys. A tap leaves the focus where it was, so a control has it only after the Tab key; then space and Enter
   press it, once, and the focus goes back. In all other cases they go forward, so that a pedal cannot repeat
   what was tapped last; nor may a button of a dialog, which keeps the focus for a moment after the dialog has closed.
   Held keys and those pressed together with Control, Alt, Shift or Meta do nothing. */
const keys = {
    ArrowRight: forward, PageDown: forward, " ": forward, Enter: forward, ArrowLeft: back, PageUp: back
};
/* Keys write in a field. Those of a pedal leave it, and go on. */
const isField = (element) => element && element.matches("input[type='text'], textarea");
document.addEventListener("keydown", (event) => {
    if (isField(event.target)) {
        const leaves = event.target === typed && ["Enter", "PageDown", "PageUp"].includes(event.key);
        if (leaves)
            event.target.blur();
        if (!leaves || event.key === "Enter")
            return;
    }
    const move = keys[event.key];
    if (!move || find("dialog[open]") || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey)
        return;
    const presses = event.key === " " || event.key === "Enter", focused = document.activeElement;
    if (presses && !event.repeat && focused && focused.matches("button") && !focused.closest("dialog"))
        return;
    event.preventDefault();
    if (!event.repeat)
        press(move, event.timeStamp);
});
document.addEventListener("mousedown", (event) => {
    if (!find("dialog[open]") && event.target.closest("button") && !isField(document.activeElement))
        event.preventDefault();
});
function whenPressed(button, action) {
    button.addEventListener("click", (event) => {
        button.blur();
        action(event);
    });
}
whenPressed(find("#go"), (event) => press(forward, event.timeStamp));
whenPressed(find("#back"), (event) => press(back, event.timeStamp));
whenPressed(find("#one-by-one"), toggleOneByOne);
whenPressed(find("#open-list"), openList);
whenPressed(find("#print"), () => { shut(list); window.print(); });
whenPressed(find("#close-list"), () => shut(list));
whenPressed(find("#open-settings"), () => { shut(list); settings.showModal(); });
whenPressed(find("#close-settings"), () => shut(settings));
whenPressed(find("#stay"), () => shut(ask));
batches.forEach((button) => whenPressed(button, () => {
    state.batch = Number(button.dataset.batch);
    showCount();
    remember();
}));

/* The screen stays on where the browser allows it; leaving the page ends that, so it is asked for again. */
let awake = null;
async function stayAwake() {
    if (document.visibilityState !== "visible" || (awake && !awake.released))
        return;
    try { awake = await navigator.wakeLock.request("screen"); } catch (refused) { awake = null; }
}
document.addEventListener("visibilitychange", stayAwake);
document.addEventListener("click", stayAwake);

const paper = window.matchMedia("print");
const showAgain = () => {
    if (!paper.matches)
        showCard(leaves.ofStep && leaves.present === lastLeaf() ? Infinity : leaves.first[leaves.present]);
};
paper.addEventListener("change", () => paper.matches ? wholePictures() : showAgain());
window.addEventListener("beforeprint", wholePictures);
window.addEventListener("afterprint", showAgain);
window.addEventListener("resize", showAgain);

recallSettings();
recallJob();
recall();
body.classList.add("bench");
main.tabIndex = 0;   /* it scrolls, so keys must reach it */
all(".screen-only").forEach((element) => { element.hidden = false; });
find("#done").max = steps.length;
showCard(state.turns ? Infinity : 0);
if (job.on && job.on !== body.dataset.key)
    remember();   /* the other sheet is not gone back to */
showChanges();
stayAwake();
