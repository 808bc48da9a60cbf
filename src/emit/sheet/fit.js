/* A card stands whole above the buttons. Where it is higher than its room, what matters less grows smaller first: the
   levels of data-fit, which the style knows. A card that is too long still, as a list of pieces may be, is leafed
   through under its heading. A step's explanations then stand on leaves of their own, to be read before it is done, and
   the last leaf has its action, large, and the count. Where a step has too many words for that, too, those of its
   present action are large (data-leaf). */
const LAST_FIT = 7;
const main = find("main");
const isTooHigh = () => main.scrollHeight > main.clientHeight;

/* What the levels are for: the present card, its heading, its picture, and the bar. They are not said of the whole page: a
   browser would look through all that it holds for each level that is tried. */
let fitted = [];
const levels = { fit: 0, leaf: "" };

function chooseFitted(card) {
    const before = fitted, part = card.closest(".part");
    fitted = [card, part && find(":scope > h3", part), find(".picture.now"), find(".bar")].filter(Boolean);
    before.filter((element) => !fitted.includes(element)).forEach((element) => element.classList.remove("fitted"));
    fitted.forEach((element) => element.classList.add("fitted"));
}
function setLevels(change) {
    Object.assign(levels, change);
    fitted.forEach((element) => Object.assign(element.dataset, levels));
    main.classList.toggle("bare", levels.leaf === "long" && levels.fit === LAST_FIT);
}

/* The lowest level at which the card fits, or the last. An explanation that was cut to its room mostly fits at the first. */
function fit() {
    let low = 0, high = LAST_FIT, level = levels.leaf === "how" ? low : high >> 1;
    while (low < high) {
        setLevels({ fit: level });
        if (isTooHigh())
            low = level + 1;
        else
            high = level;
        level = (low + high) >> 1;
    }
    setLevels({ fit: low });
}

/* Of the present card: what it is made of, and with which of these each leaf begins. */
const leaves = { items: [], first: [0], present: 0, ofStep: false, isCut: false };
const lastLeaf = () => leaves.first.length - 1;

function showItems(from, to) {
    leaves.items.forEach((item, at) => item.classList.toggle("other-leaf", at < from || at >= to));
}
function showLeaf(leaf) {
    leaves.present = Math.min(Math.max(leaf, 0), lastLeaf());
    setLevels({ leaf: !leaves.ofStep || !leaves.isCut ? "" : leaves.present < lastLeaf() ? "how" : "do" });
    if (leaves.isCut) {
        showItems(leaves.first[leaves.present], leaves.first[leaves.present + 1] ?? leaves.items.length);
        fit();
    }
    if (levels.leaf === "do" && isTooHigh()) {
        setLevels({ leaf: "long" });
        fit();
    }
    main.scrollTop = 0;
}
/* As many items as there is room for below the headings, and one at least. `whole` are their boxes with all shown. */
function endOfLeaf(card, from, whole) {
    showItems(from, from + 1);
    const only = leaves.items[from].getBoundingClientRect(), below = card.getBoundingClientRect().bottom - only.bottom;
    const room = main.getBoundingClientRect().bottom - below - only.top;
    let to = from + 1;
    while (to < whole.length && whole[to].bottom - whole[from].top <= room)
        to++;
    for (showItems(from, to); isTooHigh() && to > from + 1; showItems(from, to))
        to--;
    return to;
}
/* A long explanation is leafed through part by part of its sentences. */
function cutIntoParts(text) {
    if (text.children.length)
        return;
    const parts = text.textContent.match(/.+?[.,;:] |.+$/gs) || [];
    text.replaceChildren(...parts.map((words) => {
        const part = document.createElement("span");
        part.textContent = words;
        return part;
    }));
}
/* What a card is leafed through by; what always stands there is left out. */
function itemsOf(card) {
    if (!isStep(card)) {
        all(".orientation", card).forEach(cutIntoParts);
        return all("p, .orientation > span, li, dl > div, tbody > tr", card).filter((item) => !item.matches(".write, .orientation"));
    }
    all(".detail, .caution", card).forEach(cutIntoParts);
    return all(".facts > p, .detail > span, .caution > span", card).filter((item) => item.checkVisibility());
}
/* Cuts the present card into leaves, none where it stands whole, and shows the one with that item. */
function fitCard(card, item) {
    showItems(0, Infinity);
    Object.assign(leaves, { items: [], first: [0], ofStep: isStep(card) });
    chooseFitted(card);
    setLevels({ leaf: "" });
    fit();
    leaves.isCut = isTooHigh();
    if (leaves.isCut) {
        setLevels({ leaf: leaves.ofStep ? "how" : "" });
        leaves.items = itemsOf(card);
        const whole = leaves.items.map((part) => part.getBoundingClientRect());
        for (let from = 0; from < whole.length;) {
            from = endOfLeaf(card, from, whole);
            if (from < whole.length)
                leaves.first.push(from);
        }
        if (leaves.ofStep)
            leaves.first.push(whole.length);
    }
    showLeaf(item ? leaves.first.findLastIndex((first) => first <= item) : 0);
}
