/* The field for a measured width: there when all turns of its step are made. What is off by more than the tolerance is
   said in a dialog, with what to do. */
const widthField = find("#width"), typed = find("#measured"), howItIs = find("#how-it-is");
const bar = find(".bar"), how = find("#how"), bandTurns = find("#band-turns");
const tolerance = Number(body.dataset.tolerance), uncertaintyOfReading = Number(body.dataset.reading);
const FAR = 3;   /* standard uncertainties; the reference, "Planned again" */

/* How a width stands to the one that should be there: mm more than it, and what that is. */
function judge(at, { width, turns, sure }) {
    const { width: planned, uncertainty, turn, band } = dataOf(at), more = turns ? (turns - band) * turn : 0;
    const should = planned + more, off = width - asRead(should), off_by = Math.abs(width - should);
    const isSlip = width < should / 2 || width > should * 2;
    return { should, off, turn, isSlip, isWithin: Math.abs(off) < tolerance + calliper / 1000,
        isFar: isSlip || !sure && !turns && off_by > FAR * Math.hypot(uncertainty, uncertaintyOfReading) };
}
const apart = (off) => Math.abs(off) < calliper / 2 ? "as it should be" : shownWidth(Math.abs(off)) + (off > 0 ? " wider" : " narrower");

function howWords(judged) {
    const { should, off, turn, isSlip, isFar, isWithin } = judged, turns = Math.round(Math.abs(off) / turn);
    const begin = "It should be " + shownWidth(asRead(should)) + ": this is " + apart(off);
    if (isSlip)
        return begin + ", and is taken for a slip. Measure again.";
    if (isFar)
        return begin + ", as much as " + turns + (turns === 1 ? " turn" : " turns") + " take. Miscounted? Measure and count again; until you say that it is so, nothing goes by it.";
    if (isWithin)
        return begin + (Math.abs(off) < calliper / 2 ? "" : ", within " + shownWidth(tolerance)) + ". Go on: nothing need be planned again.";
    return begin + ", more than " + shownWidth(tolerance) + (off > 0 ? ". Pack the turns and measure again. If it stays so, plan the rest again." : ". Measure again. If it stays so, plan the rest again.");
}
const present = () => isMeasured(state.card) ? itemOf(state.card) : null;

function openHow() {
    const at = state.card, item = present();
    find("#counted-field").hidden = find("#plan-again").hidden = !item;
    find("#it-is-so").hidden = true;
    if (item) {
        const judged = judge(at, item);
        find("#how-heading").textContent = "Step " + numberOf(at) + ": " + shownWidth(item.width);
        find("#how-words").textContent = howWords(judged);
        bandTurns.value = item.turns || dataOf(at).band;
        find("#it-is-so").hidden = judged.isSlip || !judged.isFar;
        find("#plan-again").hidden = judged.isFar || judged.isWithin;
    } else {
        find("#how-heading").textContent = "No width";
        find("#how-words").textContent = "Write it as it is read: " + shownWidth(asRead(dataOf(at).width)) + ", or " + shownWidth(asRead(dataOf(at).width)).replace(/\s.*/, "") + ".";
    }
    if (!how.open)
        how.showModal();
}
/* In the bar, once the turns are made that are measured. */
function showWidth() {
    const at = state.card, isAsked = Boolean(isMeasured(at)), isThrough = state.action < 0 || state.action === actionsOf(cards[at]).length - 1;
    bar.classList.toggle("measures", isAsked);
    widthField.hidden = !isAsked || leaves.present < lastLeaf() || nextPress() > 0 || !isThrough;
    body.classList.toggle("width-asked", !widthField.hidden);
    if (!isAsked || document.activeElement === typed)
        return;
    const taken = givenAt(at), item = taken || present(), judged = item && !taken && judge(at, item);
    typed.value = item ? (item.text || shownWidth(item.width)).replace(/\s/g, " ").replace(new RegExp(" ?" + unitOfWidths + "$"), "") : "";
    typed.disabled = Boolean(taken);
    howItIs.hidden = !judged;
    howItIs.textContent = !judged ? "" : judged.isFar ? "Look again" : apart(judged.off).replace(/^as/, "As");
    howItIs.classList.toggle("off", Boolean(judged) && (judged.isFar || !judged.isWithin));
}
/* What this sheet was planned with already is no longer asked for. */
function givenAt(at) {
    const item = all("#readings > span").find(({ dataset: { at: layer, turn } }) => layerOf(cards[at]).part.dataset.at === layer && endOf(cards[at]) === Number(turn));
    return item && { width: Number(item.dataset.width) };
}
typed.addEventListener("change", () => {
    const words = typed.value.trim(), reading = words ? readWidth(words) : null, isSlip = reading && judge(state.card, reading).isSlip;
    setWidth(state.card, reading);
    typed.blur();
    showWidth();
    if (words && !reading || reading && (isSlip || judge(state.card, reading).isFar || !judge(state.card, reading).isWithin))
        openHow();
    else if (reading)
        tell(howWords(judge(state.card, reading)));
});
bandTurns.addEventListener("change", () => {
    const { turns, ...reading } = present(), counted = Number(bandTurns.value);
    if (!Number.isInteger(counted) || counted < 1 || counted >= MOST_TURNS)
        bandTurns.value = turns || dataOf(state.card).band;
    else
        setWidth(state.card, { ...reading, ...(counted !== dataOf(state.card).band && { turns: counted }) });
    showWidth();
    openHow();
});
whenPressed(howItIs, openHow);
whenPressed(find("#close-how"), () => shut(how));
whenPressed(find("#plan-again"), () => { shut(how); openRecord(); });
whenPressed(find("#it-is-so"), () => {
    setWidth(state.card, { ...present(), sure: true });
    showWidth();
    openHow();
});
