/* The bench sheet's page. What people read is taken from the page; no text of a pattern's ever stands in here. The
   scripts of this folder are one, in the order of their names. This one: what the page holds. */
const body = document.body;
const find = (selector, within) => (within || document).querySelector(selector);
const all = (selector, within) => Array.from((within || document).querySelectorAll(selector));
const cards = all(".card");
const steps = cards.filter((card) => card.matches(".step"));
const isStep = (card) => card.matches(".step");

/* A browser may refuse storage or have none left: then only the memory of what was saved is lost. */
function save(name, value) {
    try { localStorage.setItem(name, JSON.stringify(value)); } catch (refused) { /* as said above */ }
}
function readSaved(name) {
    let saved = null;
    try { saved = JSON.parse(localStorage.getItem(name)); } catch (refused) { /* as said above */ }
    return saved && typeof saved === "object" ? saved : {};
}
