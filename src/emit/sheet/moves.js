/* Where the builder is, counting, forward and back. */
const count = find("#count");
const choice = find("#choice");
const batches = all("[data-batch]", choice);
const place = "turnlay-sheet-" + body.dataset.key;

/* Which card, turns counted in it, turns a press counts there (0: all that are left), and what the last presses in it
   have counted. `kept` are such turns and presses of cards that were left for others, by their ids. */
const state = { card: 0, turns: 0, batch: 1, presses: [], kept: new Map() };
const PRESSES_KEPT = 100;
const isLast = () => state.card === cards.length - 1;
/* What is counted in this card: turns, or crossings in a leg of a crosswrap. */
const unit = () => cards[state.card].dataset.unit || "turn";
const unitWord = (count) => " " + unit() + (count === 1 ? "" : "s");

function remember() {
    save(place, { card: cards[state.card].id, turns: state.turns, batch: state.batch, presses: state.presses,
        kept: Object.fromEntries(state.kept) });
}
const isTurns = (value) => Number.isInteger(value) && value > 0;
/* What was saved of a card, as far as it can be: turns that it has, and the presses that counted them. */
function countOf(at, saved) {
    const fits = saved && isTurns(saved.turns) && saved.turns <= turnsOf(at);
    const presses = fits && Array.isArray(saved.presses) && saved.presses.every(isTurns) ? saved.presses : [];
    return { turns: fits ? saved.turns : 0, presses: presses.slice(-PRESSES_KEPT) };
}
function recall() {
    const saved = readSaved(place), at = cards.findIndex((card) => card.id === saved.card);
    const kept = saved.kept && typeof saved.kept === "object" ? saved.kept : {};
    cards.forEach((card, other) => {
        const count = Object.hasOwn(kept, card.id) ? countOf(other, kept[card.id]) : { turns: 0 };
        if (count.turns)
            state.kept.set(card.id, count);
    });
    state.batch = Number(chosen("batch"));
    if (at < 0)
        return;
    state.card = at;
    Object.assign(state, countOf(at, saved));
    if (batches.some((button) => Number(button.dataset.batch) === saved.batch))
        state.batch = saved.batch;
}

const stepsBefore = (at) => cards.slice(0, at).filter(isStep).length;
const wordsOf = (card) => find(isStep(card) ? ".action" : "h2, h3", card).textContent;

function tell(words) {
    find("#say").textContent = words;
}
function showNext() {
    const next = find("#next"), label = document.createElement("span"), words = document.createElement("span");
    next.hidden = isLast();
    if (isLast())
        return;
    label.textContent = "Next";
    words.dir = "auto";
    words.textContent = wordsOf(cards[state.card + 1]);
    next.replaceChildren(label, " ", words);
    cards[state.card].append(next);
}
function showPlace() {
    const card = cards[state.card], done = stepsBefore(state.card);
    const leaf = lastLeaf() ? "page " + (leaves.present + 1) + " of " + (lastLeaf() + 1) : "";
    const step = isStep(card) ? "Step " + (done + 1) : done === steps.length ? "All steps done" : "Before step " + (done + 1);
    find("#step-of").textContent = !leaf ? step + (isStep(card) ? " of " + steps.length : "")
        : isStep(card) ? step + ", " + leaf : leaf.replace("p", "P");
    find("#done").value = done;
}
/* The number of the item that the card's leaf shall show. */
function showCard(item) {
    const card = cards[state.card], rod = card.closest(".rod");
    all(".now").forEach((element) => element.classList.remove("now"));
    for (let element = card; element && element !== body; element = element.parentElement)
        element.classList.add("now");
    find("#rod-title").textContent = find(rod ? "h2" : "h1", rod).textContent;
    showNext();
    showBars();
    showFigure(card);
    fitCard(card, item);
    showPicture(card);
    showBars();
}
const nextPress = () => {
    const left = turnsOf(state.card) - state.turns;
    return state.batch ? Math.min(state.batch, left) : left;
};
function showCount() {
    const turns = turnsOf(state.card), next = nextPress();
    count.hidden = choice.hidden = !turns;
    find("#made").textContent = state.turns;
    find("#of").textContent = "of " + turns + unitWord(turns) + (next ? "" : turns === 1 ? ": counted" : ": all counted");
    find("#choice-words").textContent = unit().replace(/^./, (letter) => letter.toUpperCase()) + "s a press counts";
    batches.forEach((button) => button.setAttribute("aria-pressed", String(Number(button.dataset.batch) === state.batch)));
    find("#go").textContent = leaves.present < lastLeaf() ? "Next page" : next ? "Count " + next + unitWord(next)
        : isLast() ? "Done" : "Next step";
    find("#go").disabled = isLast() && leaves.present === lastLeaf();
    find("#back").textContent = state.turns ? "Undo" : "Back";
    find("#back").disabled = state.card === 0 && leaves.present === 0;
}
function showBars() {
    showCount();
    showPlace();
}
/* To another card, or another count in this one. A step begins with the batch that the settings say: one that was
   chosen for a long band is not meant for the few turns after it. */
function goTo(card, turns, presses, item = 0) {
    const moved = card !== state.card;
    Object.assign(state, { card, turns, presses });
    if (moved) {
        state.batch = Number(chosen("batch"));
        showCard(turns ? Infinity : item);
        tell(find("#step-of").textContent + ". " + wordsOf(cards[card]));
    } else {
        showBars();
        tell(turns + " of " + turnsOf(card) + unitWord(turnsOf(card)));
    }
    remember();
}
/* To a card with what was counted there when it was left, or so many turns; from its end where one comes back. */
function enter(card, turns, item) {
    const kept = state.kept.get(cards[card].id) || { turns, presses: [] };
    state.kept.delete(cards[card].id);
    goTo(card, kept.turns, kept.presses, item);
}
function turnLeaf(leaf) {
    showLeaf(leaf);
    showBars();
    tell(find("#step-of").textContent);
}
/* A press turns to the card's last leaf, counts turns while some are left, then goes on. Back takes the last press back; where it is no longer
   known what that counted, as much as one would have. */
function forward() {
    const next = nextPress();
    if (leaves.present < lastLeaf())
        turnLeaf(leaves.present + 1);
    else if (next)
        goTo(state.card, state.turns + next, state.presses.concat(next).slice(-PRESSES_KEPT));
    else if (!isLast())
        enter(state.card + 1, 0);
}
function back() {
    if (state.turns) {
        const last = state.presses.at(-1) || (state.batch && state.turns % state.batch) || state.batch || state.turns;
        goTo(state.card, Math.max(state.turns - last, 0), state.presses.slice(0, -1));
    } else if (leaves.present > 0) {
        turnLeaf(leaves.present - 1);
    } else if (state.card > 0) {
        enter(state.card - 1, turnsOf(state.card - 1), Infinity);
    }
}

/* A foot that comes down twice has pressed once: a second press of the same kind within the time that the settings
   say is left out. So is one that comes soon after the press that completed a count: it was meant for a turn, and the
   next step has not been read. */
const REST = 1000;
const lastPress = { move: null, time: 0, completed: false };

function press(move, time) {
    const apart = Number(chosen("apart")), rest = lastPress.completed ? Math.max(apart, REST) : apart;
    if (apart && move === lastPress.move && time - lastPress.time < rest) {
        find("#step-of").textContent = "Quick press left out";
        tell("A second press so soon was left out");
        return;
    }
    const before = state.turns;
    move();
    Object.assign(lastPress, { move, time, completed: move === forward && state.turns > before && nextPress() === 0 });
}
