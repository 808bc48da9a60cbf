/* The card of a place, one press away: what stands in the page, above the step at hand. */
const placeCard = find("#card");
function openPlaceCard() {
    const part = cards[state.card].closest(".part[data-card]");
    const own = part ? document.getElementById(part.dataset.card) : find(".place-card");
    const shown = own.cloneNode(true), heading = find("h3", shown);
    find("#card-heading").textContent = heading.textContent;
    heading.remove();
    find("#card-shown").replaceChildren(...shown.childNodes);
    placeCard.showModal();
    find("#card-shown").scrollTop = 0;
}
if (find(".place-card")) {
    whenPressed(find("#open-card"), openPlaceCard);
    whenPressed(find("#close-card"), () => shut(placeCard));
    whenPressed(find("#turn-card"), () => { shut(placeCard); openRound(); });
} else {
    find("#open-card").remove();
}
