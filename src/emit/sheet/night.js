/* Where to stop for the night, seen from the present step, and what to tape: a sentence a line. */
const night = find("#night");
whenPressed(find("#open-night"), () => {
    const words = find(".night", cards[state.card]).textContent;
    find("#night-words").replaceChildren(...words.split(/(?<=[.]) (?=[A-Z])/).map((sentence) => element("p", sentence)));
    shut(list);
    night.showModal();
});
whenPressed(find("#close-night"), () => shut(night));
