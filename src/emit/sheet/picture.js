/* The picture: turns that are done, being made (the course), still ahead in this layer, and of layers not begun. */
function stateOfRuns(rod, part, card, course) {
    const states = new Map();
    let when = "done";
    for (const step of stepsOf(rod)) {
        for (const { element, end } of coursesOf(step)) {
            const run = element.dataset.run, isHere = course && step === card, isPresent = isHere && element === course.element;
            if (run)
                states.set(run, isPresent ? "present" : states.get(run) === "present" ? "present"
                    : isHere && end <= course.start || when === "done" && step !== card ? "done"
                    : states.has(run) ? states.get(run)
                    : step.closest(".part") === part ? "ahead" : "unseen");
        }
        if (step === card)
            when = "later";
    }
    return states;
}
/* Named once: a style that finds it as the first path would have all others looked at again when a frame comes or goes. */
all(".picture > svg").forEach((svg) => find(":scope > path", svg).classList.add("paper"));
function clearFrame(svg) {
    all(".frame", svg).forEach((frame) => frame.remove());
}
function drawFrame(svg, box) {
    for (const name of ["frame", "frame inner"]) {
        const frame = document.createElementNS("http://www.w3.org/2000/svg", "rect");
        const room = box.height * 0.06;
        const sides = { x: box.x - room, y: box.y - room, width: box.width + 2 * room, height: box.height + 2 * room };
        for (const side of Object.keys(sides))
            frame.setAttribute(side, sides[side]);
        frame.setAttribute("class", name);
        svg.append(frame);
    }
}
function union(boxes) {
    const left = Math.min(...boxes.map((box) => box.x)), top = Math.min(...boxes.map((box) => box.y));
    const right = Math.max(...boxes.map((box) => box.x + box.width));
    const bottom = Math.max(...boxes.map((box) => box.y + box.height));
    return { x: left, y: top, width: right - left, height: bottom - top };
}
/* So much of the layer, round the present turns, as fills the picture at a height at which the rod is well seen;
   all of it where the present leg goes all the way. */
function lookAt(svg, whole, present, allTheWay) {
    const room = whole.height * 0.4, ratio = svg.clientWidth / svg.clientHeight;
    const height = Math.max(whole.height * 1.9, allTheWay ? (whole.width + 2 * room) / ratio : 0), width = height * ratio;
    const first = whole.x - room, last = whole.x + whole.width + room - width;
    const centre = present ? present.x + present.width / 2 : whole.x;
    const left = last < first ? (first + last) / 2 : Math.min(Math.max(centre - width / 2, first), last);
    svg.setAttribute("viewBox", [left, whole.y - (height - whole.height) / 2, width, height].join(" "));
}
/* The part of its run that a course makes; none for a leg, which goes all the way. */
function boxOf(course) {
    const { run: id, from, to } = course ? course.element.dataset : {}, run = id && to && document.getElementById(id);
    if (!run)
        return null;
    const box = run.getBBox();
    return { x: box.x + box.width * Number(from), y: box.y, width: box.width * (Number(to) - Number(from)), height: box.height };
}
/* The picture that belongs to a card, and of what is drawn there the card's layer; null where there is none. */
function pictureOf(card) {
    const rod = card.closest(".rod"), part = card.closest(".part"), svg = rod && part && find(".picture > svg", rod);
    const runs = svg ? all("[data-run]", part).map((step) => document.getElementById(step.dataset.run)).filter(Boolean) : [];
    return runs.length ? { svg, runs, rod, part } : null;
}
/* Where it is drawn, before what is drawn there is known. */
function figuresOf(card) {
    const picture = pictureOf(card);
    return picture ? [picture.svg.parentElement] : [];
}
function showPicture(card, course) {
    const picture = pictureOf(card);
    if (!picture)
        return;
    const { svg, runs, rod, part } = picture;
    svg.dataset.whole = svg.dataset.whole || svg.getAttribute("viewBox");
    stateOfRuns(rod, part, card, course).forEach((when, id) => {
        const run = document.getElementById(id);
        if (run)
            run.dataset.state = when;
    });
    clearFrame(svg);
    if (!svg.clientHeight)
        return;
    const box = boxOf(course);
    /* Strands are drawn beyond the rod's outline, and clipped by it. */
    const whole = runs.filter((run) => !run.matches(".strands"));
    lookAt(svg, union((whole.length ? whole : runs).map((run) => run.getBBox())), box, card.matches(".leg"));
    if (box)
        drawFrame(svg, box);
}
/* On paper the pictures stand whole. */
function wholePictures() {
    all(".picture > svg").forEach((svg) => {
        if (svg.dataset.whole)
            svg.setAttribute("viewBox", svg.dataset.whole);
        all(".run", svg).forEach((run) => delete run.dataset.state);
        clearFrame(svg);
    });
}
