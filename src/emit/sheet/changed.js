/* On a sheet that was planned again: what went wrong and what changed, until that is confirmed. */
const changed = find("#changed");
function showChanges() {
    const told = all("#happened > p, #changes > dl");
    if (!told.length || job.confirmed === body.dataset.key)
        return;
    const at = state.card;
    find("#changed-place").textContent = isStep(cards[at]) ? "You go on at step " + numberOf(at) + (job.cameOff ? "." : ", where you stood.") : "";
    find("#changed-shown").replaceChildren(...told.map((words) => words.cloneNode(true)));
    changed.showModal();
}
whenPressed(find("#confirm-changes"), () => {
    job.confirmed = body.dataset.key;
    saveJob();
    shut(changed);
});
