/* A place in the work, told so that every sheet of the file has it: which layer of which place, how many of its turns are
   made where the step begins, which of the steps that begin there, and turns counted in it. What is planned again has
   other numbers for its steps, and mostly the same beginnings. */
const endOf = (step) => Number(step.dataset.after || 0);
const begins = new Map();
const indexOfCard = new Map(cards.map((card, at) => [card, at]));
const layers = all(".part").map((part) => {
    const own = all(".step", part);
    own.reduce((turn, step) => begins.set(step, turn) && Math.max(turn, endOf(step)), 0);
    return { part, steps: own, measured: own.filter((step) => find(".write", step)).map((step) => indexOfCard.get(step)) };
});
/* Parts about the whole rod stand several times: before, between and after its wraps. */
const timesSeen = new Map();
for (const layer of layers) {
    const name = layer.part.dataset.at, before = timesSeen.get(name) || 0;
    timesSeen.set(name, before + 1);
    layer.name = name + "." + before;
}
const layerOfPart = new Map(layers.map((layer) => [layer.part, layer]));
const layerOf = (step) => layerOfPart.get(step.closest(".part"));
const thatBegin = (layer, turn) => layer.steps.filter((step) => begins.get(step) === turn);

function placeOf(at, made) {
    const step = cards[at];
    if (!isStep(step))
        return { card: step.id };
    const layer = layerOf(step), begin = begins.get(step);
    return { layer: layer.name, begin, nth: thatBegin(layer, begin).indexOf(step), made, says: wordsOf(step) };
}
/* The card of such a place on this sheet, and turns counted there; null where there is none. */
function locate(place) {
    if (!place || typeof place !== "object")
        return null;
    if (typeof place.card === "string") {
        const card = cards.findIndex((other) => !isStep(other) && other.id === place.card);
        return card < 0 ? null : { card, made: 0 };
    }
    const layer = layers.find((other) => other.name === place.layer);
    const made = Number.isInteger(place.made) && place.made > 0 ? place.made : 0;
    if (!layer || !Number.isInteger(place.begin))
        return null;
    const same = thatBegin(layer, place.begin);
    if (same.length) {
        const step = same.find((other) => wordsOf(other) === place.says) || same[place.nth] || same.at(-1), at = indexOfCard.get(step);
        return { card: at, made: Math.min(made, turnsOf(at)) };
    }
    /* No step begins there: the one that makes its next turn. */
    const turn = place.begin + made, step = layer.steps.findLast((other) => begins.get(other) <= turn) || layer.steps[0];
    const at = indexOfCard.get(step);
    return { card: at, made: Math.min(Math.max(turn - begins.get(step), 0), turnsOf(at)) };
}
const cardOfStep = (number) => cards.findIndex((card) => isStep(card) && Number(find(".number", card).textContent) === number);
/* That, or the last card where all steps are done. */
const cardAt = (number) => cardOfStep(number) < 0 ? cards.length - 1 : cardOfStep(number);
const numberOf = (at) => Number(find(".number", cards[at]).textContent);
