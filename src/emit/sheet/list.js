/* The list of all steps, and what is asked when one is picked. */
const list = find("#list");
const ask = find("#ask");

/* Turns that are counted are never lost without a question: those of a step that is being counted are kept or given
   up as the builder says, those of one that is done are kept. */
function leaveFor(at, keeps) {
    if (keeps)
        state.kept.set(cards[state.card].id, { turns: state.turns, presses: state.presses });
    enter(at, 0, false);
}
function pick(at) {
    const turns = turnsOf(state.card);
    if (at === state.card)
        return;
    if (state.turns === 0 || state.turns === turns) {
        leaveFor(at, state.turns > 0);
        return;
    }
    find("#ask-words").textContent = state.turns + " of " + turns + unitWord(turns) + " are counted in step "
        + find(".number", cards[state.card]).textContent + ".";
    find("#keep").onclick = () => { shut(ask); leaveFor(at, true); };
    find("#forget").onclick = () => { shut(ask); leaveFor(at, false); };
    ask.showModal();
}

function entry(card) {
    const item = document.createElement("li"), button = document.createElement("button");
    const number = document.createElement("span"), words = document.createElement("span");
    const at = cards.indexOf(card);
    number.className = "number";
    number.textContent = isStep(card) ? find(".number", card).textContent : "";
    words.dir = "auto";
    words.textContent = wordsOf(card);
    button.type = "button";
    button.append(number, words);
    if (at === state.card)
        button.setAttribute("aria-current", "step");
    button.addEventListener("click", () => {
        shut(list);
        pick(at);
    });
    item.append(button);
    return item;
}
function openList() {
    const entries = find(".entries", list);
    find("#open-note").hidden = find("#open-night").hidden = !isStep(cards[state.card]);
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

