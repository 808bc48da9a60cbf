/* One card at a time: counting, forward and back, the list of all steps, keys. A foot pedal is a keyboard. */
const list = find("#list");
const count = find("#count");
const choice = find("#choice");
const batches = all("[data-batch]", choice);
const place = "turnlay-sheet-" + body.dataset.key;

/* Where the builder is: which card, turns counted in it, turns a press counts (0: all that are left), and what
   the last presses in this card have counted. */
const state = { card: 0, turns: 0, batch: 1, presses: [] };
const PRESSES_KEPT = 100;
/* What is counted in this card: turns, or crossings in a leg of a crosswrap. */
const unit = () => cards[state.card].dataset.unit || "turn";
const unitWord = (count) => " " + unit() + (count === 1 ? "" : "s");

/* A browser may refuse storage or have none left: then only the memory of the place is lost. */
function remember() {
    const saved = { card: cards[state.card].id, turns: state.turns, batch: state.batch, presses: state.presses };
    try { localStorage.setItem(place, JSON.stringify(saved)); } catch (refused) { /* as said above */ }
}
const isTurns = (value) => Number.isInteger(value) && value > 0;
function recall() {
    let saved = null;
    try { saved = JSON.parse(localStorage.getItem(place)); } catch (refused) { /* as said above */ }
    if (!saved || typeof saved !== "object")
        return;
    const card = cards.findIndex((candidate) => candidate.id === saved.card);
    if (card >= 0)
        state.card = card;
    if (card >= 0 && isTurns(saved.turns) && saved.turns <= turnsOf(card)) {
        state.turns = saved.turns;
        if (Array.isArray(saved.presses) && saved.presses.every(isTurns))
            state.presses = saved.presses.slice(-PRESSES_KEPT);
    }
    if (batches.some((button) => Number(button.dataset.batch) === saved.batch))
        state.batch = saved.batch;
}

const stepsBefore = (at) => cards.slice(0, at).filter(isStep).length;

function tell(words) {
    find("#say").textContent = words;
}
function showCard() {
    const card = cards[state.card], rod = card.closest(".rod"), done = stepsBefore(state.card);
    all(".now").forEach((element) => element.classList.remove("now"));
    for (let element = card; element && element !== body; element = element.parentElement)
        element.classList.add("now");
    find("#rod-title").textContent = find(rod ? "h2" : "h1", rod).textContent;
    find("#step-of").textContent = isStep(card) ? "Step " + (done + 1) + " of " + steps.length
        : done === steps.length ? "All steps done" : "Before step " + (done + 1);
    find("#done").value = done;
    if (turnsOf(state.card))
        card.append(choice);
    showPicture(card);
    tell(find("#step-of").textContent + ". " + find(isStep(card) ? ".action" : "h2, h3", card).textContent);
}
const nextPress = () => {
    const left = turnsOf(state.card) - state.turns;
    return state.batch ? Math.min(state.batch, left) : left;
};
function showCount() {
    const turns = turnsOf(state.card), next = nextPress(), last = state.card === cards.length - 1;
    count.hidden = choice.hidden = !turns;
    find("#made").textContent = state.turns;
    find("#of").textContent = "of " + turns + unitWord(turns) + (next ? "" : turns === 1 ? ": counted" : ": all counted");
    batches[0].textContent = "1" + unitWord(1);
    batches.forEach((button) => button.setAttribute("aria-pressed", String(Number(button.dataset.batch) === state.batch)));
    find("#go").textContent = next ? "Count " + next + unitWord(next) : last ? "Done" : "Next step";
    find("#go").disabled = last;
    find("#back").textContent = state.turns ? "Undo" : "Back";
    find("#back").disabled = state.card === 0;
}
function goTo(card, turns) {
    const moved = card !== state.card;
    state.card = card;
    state.turns = turns;
    if (moved) {
        state.presses = [];
        showCard();
        find("main").scrollTop = 0;
    } else {
        tell(turns + " of " + turnsOf(card) + unitWord(turnsOf(card)));
    }
    showCount();
    remember();
}
/* A press counts turns while some are left, then goes on. Back takes the last press back; where it is no longer
   known what that counted, as much as one would have. */
function forward() {
    const next = nextPress();
    if (next) {
        state.presses = state.presses.concat(next).slice(-PRESSES_KEPT);
        goTo(state.card, state.turns + next);
    } else if (state.card < cards.length - 1) {
        goTo(state.card + 1, 0);
    }
}
function back() {
    if (state.turns) {
        const last = state.presses.pop() || (state.batch && state.turns % state.batch) || state.batch || state.turns;
        goTo(state.card, Math.max(state.turns - last, 0));
    } else if (state.card > 0) {
        goTo(state.card - 1, turnsOf(state.card - 1));
    }
}

/* The list of all steps. */
function entry(card) {
    const item = document.createElement("li"), button = document.createElement("button");
    const number = document.createElement("span"), words = document.createElement("span");
    const at = cards.indexOf(card);
    number.className = "number";
    number.textContent = isStep(card) ? find(".number", card).textContent : "";
    words.dir = "auto";
    words.textContent = find(isStep(card) ? ".action" : "h2, h3", card).textContent;
    button.type = "button";
    button.append(number, words);
    if (at === state.card)
        button.setAttribute("aria-current", "step");
    button.addEventListener("click", () => {
        list.close();
        state.presses = [];
        goTo(at, 0);
    });
    item.append(button);
    return item;
}
function openList() {
    const entries = find(".entries", list);
    entries.replaceChildren();
    let group = null, holder;
    for (const card of cards) {
        const part = card.closest(".part") || card;
        if (part !== group) {
            if (part !== card) {
                const heading = document.createElement("h3");
                heading.dir = "auto";
                heading.textContent = find("h3", part).textContent;
                entries.append(heading);
            }
            holder = document.createElement("ol");
            entries.append(holder);
            group = part;
        }
        holder.append(entry(card));
    }
    list.showModal();
    const present = find("[aria-current]", entries);
    present.focus();
    present.scrollIntoView({ block: "center" });
}

/* Keys. A tap leaves the focus where it was, so a control has it only after the Tab key; then space and Enter
   press it, once, and the focus goes back. In all other cases they go forward, so that a pedal cannot repeat
   what was tapped last; nor may an entry of the list, which keeps the focus for a moment after the list has closed.
   Held keys and those pressed together with Control, Alt, Shift or Meta do nothing. */
const keys = {
    ArrowRight: forward, PageDown: forward, " ": forward, Enter: forward, ArrowLeft: back, PageUp: back
};
document.addEventListener("keydown", (event) => {
    const move = keys[event.key];
    if (!move || list.open || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey)
        return;
    const presses = event.key === " " || event.key === "Enter", focused = document.activeElement;
    if (presses && !event.repeat && focused && focused.matches("button") && !list.contains(focused))
        return;
    event.preventDefault();
    if (!event.repeat)
        move();
});
document.addEventListener("mousedown", (event) => {
    if (!list.open && event.target.closest("button"))
        event.preventDefault();
});
function press(button, action) {
    button.addEventListener("click", () => {
        button.blur();
        action();
    });
}
press(find("#go"), forward);
press(find("#back"), back);
press(find("#open-list"), openList);
press(find("#print"), () => { list.close(); window.print(); });
press(find("#close-list"), () => list.close());
list.addEventListener("close", () => { if (document.activeElement) document.activeElement.blur(); });
batches.forEach((button) => press(button, () => {
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
const showAgain = () => { if (!paper.matches) showPicture(cards[state.card]); };
paper.addEventListener("change", () => paper.matches ? wholePictures() : showAgain());
window.addEventListener("beforeprint", wholePictures);
window.addEventListener("afterprint", showAgain);
window.addEventListener("resize", showAgain);

recall();
body.classList.add("bench");
find("main").tabIndex = 0;   /* it scrolls, so keys must reach it */
all(".screen-only").forEach((element) => { element.hidden = false; });
find("#done").max = steps.length;
showCard();
showCount();
stayAwake();
