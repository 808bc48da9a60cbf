/* A note to a step, with a date if the builder writes one. */
const noteDialog = find("#note"), noteText = find("#note-text"), noteDate = find("#note-date");
const noteOf = (at) => job.notes.find((note) => note.place && locate(note.place)?.card === at);

function showNote() {
    const note = noteOf(state.card);
    put(find("#noted"), "Note", note ? note.text : "");
}
function openNote() {
    const note = noteOf(state.card);
    find("#note-heading").textContent = isStep(cards[state.card]) ? "Note to step " + numberOf(state.card) : wordsOf(cards[state.card]);
    noteText.value = note ? note.text : "";
    noteDate.value = note && note.date || "";
    noteDialog.showModal();
}
function keepNote() {
    const words = noteText.value.trim(), date = noteDate.value.trim();
    job.notes = job.notes.filter((note) => note !== noteOf(state.card));
    if (words)
        job.notes.push({ text: words, ...(date && { date }), place: placeOf(state.card, 0) });
    saveJob();
}
noteDialog.addEventListener("change", keepNote);
noteDialog.addEventListener("shut", () => { keepNote(); showCard(leaves.first[leaves.present]); });
whenPressed(find("#open-note"), () => { shut(list); openNote(); });
whenPressed(find("#close-note"), () => shut(noteDialog));
