/* The place of the step at hand, turned: by hand, by keys, by buttons. */
const roundDialog = find("#round"), turned = find("#turned"), turnedPen = find("canvas", turned).getContext("2d");
const ROUND_GUTTER = 18, ROUND_DENSEST = 2, ROUND_THICK = 0.72, ROUND_NEAREST = 6, ROUND_KEY = 5, ROUND_PAGE = 45;
const shownRound = { template: null, round: null, image: null, facing: 0, isNear: true, pixel: 1, isAsked: false };

const roundTemplate = () => {
    const part = cards[state.card].closest(".part[data-round]");
    return part && document.getElementById(part.dataset.round);
};
const degrees = (angle) => ((angle % 360) + 360) % 360;
const whole = (angle) => Math.round(degrees(angle)) % 360;
/* What is marked: the rod's line, or the guide. How far it is turned from facing one; where it is seen, so far below the
   axis, as a share of the rod's half there; and whether it is in front. */
const isGuide = () => Boolean(shownRound.template) && "guide" in shownRound.template.dataset;
const lineAngle = () => isGuide() ? Number(shownRound.template.dataset.facing) : 0;
const lineTurned = () => degrees(shownRound.facing - lineAngle());
const lineOff = () => Math.sin(-lineTurned() / 180 * Math.PI);
const lineIsSeen = () => Math.cos(lineTurned() / 180 * Math.PI) > 0;
function lineWords() {
    const angle = whole(lineTurned()), name = isGuide() ? "The guide" : "The rod's line";
    return name + (angle === 0 ? " faces you" : angle === 180 ? " is on the far side"
        : " is " + (angle < 180 ? "above" : "below") + (lineIsSeen() ? "" : ", on the far side"));
}
/* Beside the rod, right and left, where its line is: full in front, hollow on the far side. */
function drawLineMarks(round, first, width) {
    const { pixel } = shownRound, size = ROUND_GUTTER * pixel * 0.5, middle = turnedPen.canvas.height / 2;
    turnedPen.strokeStyle = turnedPen.fillStyle = getComputedStyle(turned).color;
    turnedPen.lineWidth = 1.5 * pixel;
    for (const side of [-1, 1]) {
        const column = Math.min(Math.max(side < 0 ? first : first + width - 1, 0), round.columns - 1);
        const tip = side < 0 ? (ROUND_GUTTER - 3) * pixel : turnedPen.canvas.width - (ROUND_GUTTER - 3) * pixel;
        const y = middle + lineOff() * round.halves[column];
        turnedPen.beginPath();
        turnedPen.moveTo(tip, y);
        turnedPen.lineTo(tip + side * size, y - size * 0.6);
        turnedPen.lineTo(tip + side * size, y + size * 0.6);
        turnedPen.closePath();
        if (lineIsSeen())
            turnedPen.fill();
        turnedPen.stroke();
    }
}
function paintRound() {
    const { round, image, facing, pixel } = shownRound, canvas = turnedPen.canvas;
    shownRound.isAsked = false;
    if (!round || !roundDialog.open)
        return;
    const first = Math.min(Math.max(Math.round(turned.scrollLeft * pixel), 0), round.columns - image.width);
    turnRound(round, facing, first, image);
    const top = Math.round((canvas.height - round.height) / 2), left = Math.round((canvas.width - image.width) / 2);
    turnedPen.clearRect(0, 0, canvas.width, canvas.height);
    turnedPen.putImageData(image, left, top);
    turnedPen.drawImage(round.light, first, 0, image.width, round.height, left, top, image.width, round.height);
    drawLineMarks(round, first, image.width);
}
/* One picture a frame, however many drags there were. */
function askForRound() {
    if (!shownRound.isAsked)
        requestAnimationFrame(paintRound);
    shownRound.isAsked = true;
}
function turnTo(angle) {
    shownRound.facing = degrees(angle);
    const value = whole(angle);
    turned.setAttribute("aria-valuenow", value);
    turned.setAttribute("aria-valuetext", value + " degrees faces you. " + lineWords());
    find("#round-says").textContent = value + " deg faces you. " + lineWords() + ".";
    askForRound();
}
/* Near by the rod is as thick as the room allows, but no more than so many times what it is with its whole length seen. */
function layOutRound() {
    const { template } = shownRound, canvas = turnedPen.canvas, width = turned.clientWidth, height = turned.clientHeight;
    if (!template || !width || !height)
        return;
    const size = sizeOf(template), thick = 2 * outlineOf(template).reduce((most, { half }) => Math.max(most, half), 0), room = width - 2 * ROUND_GUTTER;
    const fits = Math.min(room / size, height * ROUND_THICK / thick), near = Math.min(Math.max(height * ROUND_THICK / thick, fits), fits * ROUND_NEAREST);
    const middle = shownRound.round ? (turned.scrollLeft + width / 2) / turned.scrollWidth : 0.5;
    const pixel = Math.min(window.devicePixelRatio || 1, ROUND_DENSEST);
    canvas.width = Math.round(width * pixel);
    canvas.height = Math.round(height * pixel);
    canvas.style.width = width + "px";
    canvas.style.height = height + "px";
    const round = roundOf(template, (shownRound.isNear ? near : fits) * pixel, canvas.height);
    Object.assign(shownRound, { round, pixel, image: turnedPen.createImageData(Math.min(Math.round(room * pixel), round.columns), round.height) });
    canvas.parentElement.style.width = Math.max(round.columns / pixel + 2 * ROUND_GUTTER, width) + "px";
    turned.scrollLeft = middle * turned.scrollWidth - width / 2;
    find("#round-near").hidden = near < fits * 1.1;
    find("#round-near").setAttribute("aria-pressed", String(shownRound.isNear));
    all("[data-along]").forEach((button) => { button.disabled = turned.scrollWidth <= turned.clientWidth; });
    askForRound();
}
function openRound() {
    const template = roundTemplate(), isHeld = Boolean(template.dataset.outline), part = cards[state.card].closest(".part");
    find("#round-heading").textContent = find("h3", document.getElementById(part.dataset.card)).textContent;
    find("#round-none").hidden = isHeld;
    find("#round-held").hidden = !isHeld;
    Object.assign(shownRound, { template: isHeld ? template : null, round: null, isNear: true });
    roundDialog.showModal();
    find("#round-guide").hidden = !isGuide();
    find("#round-line").textContent = isGuide() ? "Guide" : "Rod's line";
    if (isHeld) {
        layOutRound();
        turnTo(Number(template.dataset.facing));
        turned.focus();
    }
}
const turnButtons = all(".turn-it");
/* Only where the place at hand is turned. */
function showTurnIt() {
    const has = Boolean(roundTemplate());
    turnButtons.forEach((button) => { button.hidden = !has; });
    find("#turn-card").hidden = !has;
}
const roundKeys = { ArrowUp: ROUND_KEY, ArrowRight: ROUND_KEY, ArrowDown: -ROUND_KEY, ArrowLeft: -ROUND_KEY, PageUp: ROUND_PAGE, PageDown: -ROUND_PAGE };
turned.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.shiftKey)
        return;
    if (roundKeys[event.key])
        turnTo(whole(shownRound.facing) + roundKeys[event.key]);
    else if (event.key === "Home" || event.key === "End")
        turnTo(lineAngle() + (event.key === "Home" ? 0 : 180));
    else
        return;
    event.preventDefault();
});
/* The surface goes with the finger: a way across of the rod's half there is a turn of one radian. */
const dragged = { id: null, x: 0, y: 0 };
function halfUnder(event) {
    const { round, pixel } = shownRound, left = turned.getBoundingClientRect().left + turned.clientLeft + ROUND_GUTTER;
    const column = Math.round((event.clientX - left + turned.scrollLeft) * pixel);
    return round.halves[Math.min(Math.max(column, 0), round.columns - 1)] / pixel;
}
turned.addEventListener("pointerdown", (event) => {
    if (event.button || !shownRound.round)
        return;
    Object.assign(dragged, { id: event.pointerId, x: event.clientX, y: event.clientY });
    turned.setPointerCapture(event.pointerId);
});
turned.addEventListener("pointermove", (event) => {
    if (event.pointerId !== dragged.id)
        return;
    if (event.pointerType !== "touch")
        turned.scrollLeft -= event.clientX - dragged.x;
    turnTo(shownRound.facing - (event.clientY - dragged.y) / halfUnder(event) * 180 / Math.PI);
    Object.assign(dragged, { x: event.clientX, y: event.clientY });
});
["pointerup", "pointercancel"].forEach((end) => turned.addEventListener(end, () => { dragged.id = null; }));
turned.addEventListener("scroll", askForRound);
all("[data-turn]", roundDialog).forEach((button) => button.addEventListener("click", () => turnTo(whole(shownRound.facing) + Number(button.dataset.turn))));
all("[data-along]", roundDialog).forEach((button) => button.addEventListener("click", () => {
    turned.scrollLeft += Number(button.dataset.along) * turned.clientWidth / 2;
}));
find("#round-line").addEventListener("click", () => turnTo(lineAngle()));
find("#round-near").addEventListener("click", () => {
    shownRound.isNear = !shownRound.isNear;
    layOutRound();
});
turnButtons.forEach((button) => whenPressed(button, openRound));
whenPressed(find("#close-round"), () => shut(roundDialog));
window.addEventListener("resize", () => roundDialog.open && layOutRound());
/* What it holds is large, and made again in a moment. */
roundDialog.addEventListener("shut", () => Object.assign(shownRound, { template: null, round: null, image: null }));
