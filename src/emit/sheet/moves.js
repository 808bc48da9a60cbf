/* Where the builder is, counting, forward and back. */
const count = find("#count");
const choice = find("#choice");
const batches = all("[data-batch]", choice);
const place = "turnlay-sheet-" + body.dataset.key;

/* Which card, which of its actions if they are shown one by one (else -1), turns counted in the card, turns a press counts
   there (0: all that are left), and what the last presses in it have counted. `kept` are such turns and presses of cards
   that were left for others, by their ids. */
const state = { card: 0, action: -1, turns: 0, batch: 1, presses: [], kept: new Map() };
const PRESSES_KEPT = 100;
const isLast = () => state.card === cards.length - 1;
const course = () => courseAt(cards[state.card], state.turns, state.action);
/* What is counted: turns, or crossings in a leg of a crosswrap. */
const unit = () => (course() || { element: body }).element.dataset.unit || "turn";
const unitWord = (count) => " " + unit() + (count === 1 ? "" : "s");

function remember() {
    const { card, action, turns, batch, presses, kept } = state;
    save(place, { card: cards[card].id, action, turns, batch, presses, kept: Object.fromEntries(kept) });
    keepStand();
}
const isTurns = (value) => Number.isInteger(value) && value > 0;
/* What was saved of a card, as far as it can be: turns that it has, and the presses that counted them. */
function countOf(at, saved) {
    const fits = saved && isTurns(saved.turns) && saved.turns <= turnsOf(at);
    const presses = fits && Array.isArray(saved.presses) && saved.presses.every(isTurns) ? saved.presses : [];
    return { turns: fits ? saved.turns : 0, presses: presses.slice(-PRESSES_KEPT) };
}
/* The action that is done after so many turns: the first where none is counted. */
function actionAt(card, turns) {
    const present = courseAt(card, turns, -1);
    return turns && present ? Math.max(actionsOf(card).indexOf(present.element), 0) : 0;
}
/* Steps of one action have no other depth. */
const hasDepth = (card) => actionsOf(card).length > 1;
const beginsOneByOne = (card) => chosen("depth") === "actions" && hasDepth(card);

function recall() {
    const moved = movedPlace(), own = readSaved(place), from = Number(body.dataset.from);
    const saved = moved ? { card: cards[moved.card].id, turns: moved.made, kept: own.kept }
        : own.card || !from ? own : { card: cards[cardAt(from)].id };
    const at = Math.max(cards.findIndex((card) => card.id === saved.card), 0);
    const kept = saved.kept && typeof saved.kept === "object" ? saved.kept : {};
    cards.forEach((card, other) => {
        const count = Object.hasOwn(kept, card.id) ? countOf(other, kept[card.id]) : { turns: 0 };
        if (count.turns)
            state.kept.set(card.id, count);
    });
    Object.assign(state, { card: at, batch: Number(chosen("batch")) }, cards[at].id === saved.card ? countOf(at, saved) : {});
    const isOneByOne = Number.isInteger(saved.action) ? saved.action >= 0 && hasDepth(cards[at]) : beginsOneByOne(cards[at]);
    if (isOneByOne)
        state.action = actionsOf(cards[at])[saved.action] ? saved.action : actionAt(cards[at], state.turns);
    if (batches.some((button) => Number(button.dataset.batch) === saved.batch))
        state.batch = saved.batch;
}

const stepsBefore = (at) => cards.slice(0, at).filter(isStep).length;
const wordsOf = (card) => find(isStep(card) ? ".action" : "h2, h3", card).textContent;

function tell(words) {
    find("#say").textContent = words;
}
/* "Now", "Next": what a step is about at this moment, and what comes after it. */
function put(line, label, words) {
    const name = document.createElement("span"), said = document.createElement("span");
    line.hidden = !words;
    name.className = "label";
    name.textContent = label;
    said.dir = "auto";
    said.textContent = words;
    line.replaceChildren(name, " ", said);
    cards[state.card].append(line);
}
function nextWords() {
    const action = state.action >= 0 && actionsOf(cards[state.card])[state.action + 1];
    return action ? find(".does", action).textContent : isLast() ? "" : wordsOf(cards[state.card + 1]);
}
const nowTold = () => state.action < 0 ? wordsAt(cards[state.card], state.turns) : [];
const nowWords = () => nowTold().join(". ");

function showPlace() {
    const card = cards[state.card], done = stepsBefore(state.card), actions = actionsOf(card).length;
    const within = lastLeaf() ? "page " + (leaves.present + 1) + " of " + (lastLeaf() + 1)
        : state.action >= 0 ? "action " + (state.action + 1) + " of " + actions : "";
    const step = isStep(card) ? "Step " + (done + 1) : done === steps.length ? "All steps done" : "Before step " + (done + 1);
    find("#step-of").textContent = !within ? step + (isStep(card) ? " of " + steps.length : "")
        : isStep(card) ? step + ", " + within : within.replace("p", "P");
    find("#done").value = done;
}
const nextPress = () => {
    const present = course(), left = present ? Math.max(present.end - state.turns, 0) : 0;
    return state.batch ? Math.min(state.batch, left) : left;
};
function showCount() {
    const present = course(), next = nextPress(), all = turnsOf(state.card), several = present && present.end - present.start < all;
    const turns = present ? present.end - present.start : 0, made = present ? state.turns - present.start : 0;
    count.hidden = choice.hidden = !present;
    find("#made").textContent = made;
    find("#of").textContent = "of " + turns + unitWord(turns) + (next ? "" : turns === 1 ? ": counted" : ": all counted")
        + (several ? ", " + state.turns + " of " + all + " in the step" : "");
    find("#choice-words").textContent = unit().replace(/^./, (letter) => letter.toUpperCase()) + "s a press counts";
    batches.forEach((button) => button.setAttribute("aria-pressed", String(Number(button.dataset.batch) === state.batch)));
    const isThrough = state.action < 0 || state.action === actionsOf(cards[state.card]).length - 1;
    find("#go").textContent = leaves.present < lastLeaf() ? "Next page" : next ? "Count " + next + unitWord(next)
        : isLast() ? "Done" : isThrough ? "Next step" : "Next action";
    find("#go").disabled = isLast() && leaves.present === lastLeaf();
    find("#back").textContent = made > 0 || state.action < 0 && state.turns ? "Undo" : "Back";
    find("#back").disabled = state.card === 0 && leaves.present === 0;
    cards[state.card].classList.toggle("through", !next);
    find("#one-by-one").hidden = !hasDepth(cards[state.card]);
    find("#one-by-one").setAttribute("aria-pressed", String(state.action >= 0));
}
function showBars() {
    showCount();
    showPlace();
    showWidth();
}
function showActions(card) {
    all(".by-one").forEach((other) => other.classList.remove("by-one"));
    all(".actions", card).forEach((list) => { list.hidden = state.action < 0; });
    actionsOf(card).forEach((action, at) => action.classList.toggle("present", at === state.action));
    card.classList.toggle("by-one", state.action >= 0);
    card.classList.toggle("last-action", state.action === actionsOf(card).length - 1);
}
/* The card, all that it lies in, and its picture. What stays is left alone: a browser looks through all of it again. */
function showNow(card) {
    const now = [];
    for (let element = card; element !== body; element = element.parentElement)
        now.push(element);
    now.push(...figuresOf(card));
    all(".now").filter((element) => !now.includes(element)).forEach((element) => element.classList.remove("now"));
    now.forEach((element) => element.classList.add("now"));
}
/* The number of the item that the card's leaf shall show. */
function showCard(item) {
    const card = cards[state.card], rod = card.closest(".rod");
    showNow(card);
    find("#rod-title").textContent = find(rod ? "h2" : "h1", rod).textContent;
    showActions(card);
    put(find("#present"), "Now", nowWords());
    find("#present").classList.toggle("many", nowTold().length > 1);
    find("#present").classList.toggle("sole", coursesOf(card).length < 2);
    showNote();
    showTurnIt();
    put(find("#next"), "Next", nextWords());
    showBars();
    fitCard(card, item);
    showPicture(card, course());
    showBars();
}
/* Another count or action in this card. */
function stay(change) {
    const now = nowWords();
    Object.assign(state, change);
    if ("action" in change || nowWords() !== now)
        showCard("action" in change && !state.turns ? 0 : Infinity);
    else
        showBars();
    const present = course();
    tell("action" in change && state.action >= 0 ? find(".present > .does", cards[state.card]).textContent
        : present ? state.turns - present.start + " of " + (present.end - present.start) + unitWord(present.end - present.start) : "");
    remember();
}
/* To another card with what was counted there when it was left, or so many turns; from its end where one comes back. It
   begins with the batch and the depth that the settings say: what was chosen for a long band is not meant for the few
   turns after it. */
function enter(at, turns, isFromEnd) {
    const id = cards[at].id, kept = state.kept.get(id) || { turns, presses: [] };
    state.kept.delete(id);
    Object.assign(state, { card: at, action: -1, batch: Number(chosen("batch")), turns: kept.turns, presses: kept.presses });
    if (beginsOneByOne(cards[at]))
        state.action = isFromEnd ? actionsOf(cards[at]).length - 1 : actionAt(cards[at], state.turns);
    showCard(state.turns || isFromEnd ? Infinity : 0);
    tell(find("#step-of").textContent + ". " + wordsOf(cards[at]));
    remember();
}
function turnLeaf(leaf) {
    showLeaf(leaf);
    showPicture(cards[state.card], course());
    showBars();
    tell(find("#step-of").textContent);
}
/* A press turns to the card's last leaf, counts turns while some are left, then goes on. Back takes the last press back;
   where it is no longer known what that counted, as much as one would have. */
function forward() {
    const next = nextPress();
    if (leaves.present < lastLeaf())
        turnLeaf(leaves.present + 1);
    else if (next)
        stay({ turns: state.turns + next, presses: state.presses.concat(next).slice(-PRESSES_KEPT) });
    else if (state.action >= 0 && state.action < actionsOf(cards[state.card]).length - 1)
        stay({ action: state.action + 1 });
    else if (!isLast())
        enter(state.card + 1, 0, false);
}
function back() {
    /* As a whole a step is taken back over its courses, one by one within the action that is shown. */
    const card = cards[state.card], present = state.action < 0 && state.turns ? courseAt(card, state.turns - 1, -1) : course();
    const made = present ? state.turns - present.start : 0;
    if (made > 0) {
        const last = state.presses.at(-1) || (state.batch ? made % state.batch || state.batch : made);
        stay({ turns: state.turns - Math.min(last, made), presses: state.presses.slice(0, -1) });
    } else if (leaves.present > 0) {
        turnLeaf(leaves.present - 1);
    } else if (state.action > 0) {
        stay({ action: state.action - 1 });
    } else if (state.card > 0) {
        enter(state.card - 1, turnsOf(state.card - 1), true);
    }
}
function toggleOneByOne() {
    stay({ action: state.action < 0 ? actionAt(cards[state.card], state.turns) : -1 });
}

/* A foot that comes down twice has pressed once: a second press of the same kind within the time that the settings
   say is left out. So is one that comes soon after the press that completed a count: it was meant for a turn, and what
   comes next has not been read. */
const REST = 1000;
const lastPress = { move: null, time: 0, completed: false };

function press(move, time) {
    const apart = Number(chosen("apart")), rest = lastPress.completed ? Math.max(apart, REST) : apart;
    if (apart && move === lastPress.move && time - lastPress.time < rest) {
        find("#step-of").textContent = "Quick press left out";
        tell("A second press so soon was left out");
        return;
    }
    const before = state.turns, counted = course();
    move();
    Object.assign(lastPress, { move, time, completed: move === forward && state.turns > before && state.turns === counted.end });
}
