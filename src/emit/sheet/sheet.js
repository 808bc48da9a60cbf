/* The bench sheet's page, one card at a time. What people read is taken from the page; no text of a pattern's ever
   stands in here. A foot pedal is a keyboard. */
(function () {
    "use strict";
    const body = document.body;
    const find = (selector, within) => (within || document).querySelector(selector);
    const all = (selector, within) => Array.from((within || document).querySelectorAll(selector));
    const cards = all(".card");
    const steps = cards.filter((card) => card.matches(".step"));
    const list = find("#list");
    const count = find("#count");
    const choice = find("#choice");
    const batches = all("[data-batch]", choice);
    const place = "turnlay-sheet-" + body.dataset.key;

    /* Where the builder is: which card, turns counted in it, turns a press counts (0: all that are left), and what
       the last presses in this card have counted. */
    const state = { card: 0, turns: 0, batch: 1, presses: [] };
    const PRESSES_KEPT = 100;
    const turnsOf = (card) => Number(cards[card].dataset.turns || 0);
    /* What is counted in this card: turns, or crossings in a leg of a crosswrap. */
    const unit = () => cards[state.card].dataset.unit || "turn";
    const unitWord = (count) => " " + unit() + (count === 1 ? "" : "s");

    /* A browser may refuse storage or have none left: then only the memory of the place is lost. */
    function remember() {
        const saved = { card: cards[state.card].id, turns: state.turns, batch: state.batch, presses: state.presses };
        try { localStorage.setItem(place, JSON.stringify(saved)); } catch (refused) { /* as said above */ }
    }
    const isTurns = (value) => Number.isInteger(value) && value > 0;
    function recall() {
        let saved = null;
        try { saved = JSON.parse(localStorage.getItem(place)); } catch (refused) { /* as said above */ }
        if (!saved || typeof saved !== "object")
            return;
        const card = cards.findIndex((candidate) => candidate.id === saved.card);
        if (card >= 0)
            state.card = card;
        if (card >= 0 && isTurns(saved.turns) && saved.turns <= turnsOf(card)) {
            state.turns = saved.turns;
            if (Array.isArray(saved.presses) && saved.presses.every(isTurns))
                state.presses = saved.presses.slice(-PRESSES_KEPT);
        }
        if (batches.some((button) => Number(button.dataset.batch) === saved.batch))
            state.batch = saved.batch;
    }

    /* The picture: turns that are done, being made, still ahead in this layer, and of layers not begun. */
    function stateOfRuns(rod, part, step) {
        const states = new Map();
        let when = "done";
        for (const other of all(".step", rod)) {
            const reached = other === step;
            if (other.dataset.run)
                states.set(other.dataset.run, reached ? "present" : when === "done" ? "done"
                    : states.has(other.dataset.run) ? states.get(other.dataset.run)
                    : other.closest(".part") === part ? "ahead" : "unseen");
            if (reached)
                when = "later";
        }
        return states;
    }
    function clearFrame(svg) {
        all(".frame", svg).forEach((frame) => frame.remove());
    }
    function drawFrame(svg, box) {
        for (let i = 0; i < 2; i++) {
            const frame = document.createElementNS("http://www.w3.org/2000/svg", "rect");
            const room = box.height * 0.06;
            const sides = { x: box.x - room, y: box.y - room, width: box.width + 2 * room, height: box.height + 2 * room };
            for (const name of Object.keys(sides))
                frame.setAttribute(name, sides[name]);
            frame.setAttribute("class", "frame");
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
    /* The part of its run that a step makes; none for a leg, which goes all the way. */
    function boxOf(card) {
        const run = card.dataset.run && card.dataset.to && document.getElementById(card.dataset.run);
        if (!run)
            return null;
        const box = run.getBBox(), from = Number(card.dataset.from), to = Number(card.dataset.to);
        return { x: box.x + box.width * from, y: box.y, width: box.width * (to - from), height: box.height };
    }
    function showPicture(card) {
        const rod = card.closest(".rod"), part = card.closest(".part");
        if (!rod || !part)
            return;
        const figure = find(".picture", rod), svg = figure && find("svg", figure);
        const runs = svg ? all(".step[data-run]", part).map((step) => document.getElementById(step.dataset.run)).filter(Boolean) : [];
        if (!runs.length)
            return;
        figure.classList.add("now", "part-view");
        svg.dataset.whole = svg.dataset.whole || svg.getAttribute("viewBox");
        stateOfRuns(rod, part, card).forEach((when, id) => {
            const run = document.getElementById(id);
            if (run)
                run.dataset.state = when;
        });
        const box = boxOf(card);
        clearFrame(svg);
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

    const isStep = (card) => card.matches(".step");
    const stepsBefore = (at) => cards.slice(0, at).filter(isStep).length;

    function tell(words) {
        find("#say").textContent = words;
    }
    function showCard() {
        const card = cards[state.card], rod = card.closest(".rod"), done = stepsBefore(state.card);
        all(".now").forEach((element) => element.classList.remove("now"));
        for (let element = card; element && element !== body; element = element.parentElement)
            element.classList.add("now");
        find("#rod-title").textContent = find(rod ? "h2" : "h1", rod).textContent;
        find("#step-of").textContent = isStep(card) ? "Step " + (done + 1) + " of " + steps.length
            : done === steps.length ? "All steps done" : "Before step " + (done + 1);
        find("#done").value = done;
        if (turnsOf(state.card))
            card.append(choice);
        showPicture(card);
        tell(find("#step-of").textContent + ". " + find(isStep(card) ? ".action" : "h2, h3", card).textContent);
    }
    const nextPress = () => {
        const left = turnsOf(state.card) - state.turns;
        return state.batch ? Math.min(state.batch, left) : left;
    };
    function showCount() {
        const turns = turnsOf(state.card), next = nextPress(), last = state.card === cards.length - 1;
        count.hidden = choice.hidden = !turns;
        find("#made").textContent = state.turns;
        find("#of").textContent = "of " + turns + unitWord(turns) + (next ? "" : turns === 1 ? ": counted" : ": all counted");
        batches[0].textContent = "1" + unitWord(1);
        batches.forEach((button) => button.setAttribute("aria-pressed", String(Number(button.dataset.batch) === state.batch)));
        find("#go").textContent = next ? "Count " + next + unitWord(next) : last ? "Done" : "Next step";
        find("#go").disabled = last;
        find("#back").textContent = state.turns ? "Undo" : "Back";
        find("#back").disabled = state.card === 0;
    }
    function goTo(card, turns) {
        const moved = card !== state.card;
        state.card = card;
        state.turns = turns;
        if (moved) {
            state.presses = [];
            showCard();
            find("main").scrollTop = 0;
        } else {
            tell(turns + " of " + turnsOf(card) + unitWord(turnsOf(card)));
        }
        showCount();
        remember();
    }
    /* A press counts turns while some are left, then goes on. Back takes the last press back; where it is no longer
       known what that counted, as much as one would have. */
    function forward() {
        const next = nextPress();
        if (next) {
            state.presses = state.presses.concat(next).slice(-PRESSES_KEPT);
            goTo(state.card, state.turns + next);
        } else if (state.card < cards.length - 1) {
            goTo(state.card + 1, 0);
        }
    }
    function back() {
        if (state.turns) {
            const last = state.presses.pop() || (state.batch && state.turns % state.batch) || state.batch || state.turns;
            goTo(state.card, Math.max(state.turns - last, 0));
        } else if (state.card > 0) {
            goTo(state.card - 1, turnsOf(state.card - 1));
        }
    }

    /* The list of all steps. */
    function entry(card) {
        const item = document.createElement("li"), button = document.createElement("button");
        const number = document.createElement("span"), words = document.createElement("span");
        const at = cards.indexOf(card);
        number.className = "number";
        number.textContent = isStep(card) ? find(".number", card).textContent : "";
        words.dir = "auto";
        words.textContent = find(isStep(card) ? ".action" : "h2, h3", card).textContent;
        button.type = "button";
        button.append(number, words);
        if (at === state.card)
            button.setAttribute("aria-current", "step");
        button.addEventListener("click", () => {
            list.close();
            state.presses = [];
            goTo(at, 0);
        });
        item.append(button);
        return item;
    }
    function openList() {
        const entries = find(".entries", list);
        entries.replaceChildren();
        let group = null, holder;
        for (const card of cards) {
            const part = card.closest(".part") || card;
            if (part !== group) {
                if (part !== card) {
                    const heading = document.createElement("h3");
                    heading.dir = "auto";
                    heading.textContent = find("h3", part).textContent;
                    entries.append(heading);
                }
                holder = document.createElement("ol");
                entries.append(holder);
                group = part;
            }
            holder.append(entry(card));
        }
        list.showModal();
        const present = find("[aria-current]", entries);
        present.focus();
        present.scrollIntoView({ block: "center" });
    }

    /* Keys. A tap leaves the focus where it was, so a control has it only after the Tab key; then space and Enter
       press it, once, and the focus goes back. In all other cases they go forward, so that a pedal cannot repeat
       what was tapped last; nor may an entry of the list, which keeps the focus for a moment after the list has closed.
       Held keys and those pressed together with Control, Alt, Shift or Meta do nothing. */
    const keys = {
        ArrowRight: forward, PageDown: forward, " ": forward, Enter: forward, ArrowLeft: back, PageUp: back
    };
    document.addEventListener("keydown", (event) => {
        const move = keys[event.key];
        if (!move || list.open || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey)
            return;
        const presses = event.key === " " || event.key === "Enter", focused = document.activeElement;
        if (presses && !event.repeat && focused && focused.matches("button") && !list.contains(focused))
            return;
        event.preventDefault();
        if (!event.repeat)
            move();
    });
    document.addEventListener("mousedown", (event) => {
        if (!list.open && event.target.closest("button"))
            event.preventDefault();
    });
    function press(button, action) {
        button.addEventListener("click", () => {
            button.blur();
            action();
        });
    }
    press(find("#go"), forward);
    press(find("#back"), back);
    press(find("#open-list"), openList);
    press(find("#print"), () => { list.close(); window.print(); });
    press(find("#close-list"), () => list.close());
    list.addEventListener("close", () => { if (document.activeElement) document.activeElement.blur(); });
    batches.forEach((button) => press(button, () => {
        state.batch = Number(button.dataset.batch);
        showCount();
        remember();
    }));

    /* The screen stays on where the browser allows it; leaving the page ends that, so it is asked for again. */
    let awake = null;
    async function stayAwake() {
        if (document.visibilityState !== "visible" || (awake && !awake.released))
            return;
        try { awake = await navigator.wakeLock.request("screen"); } catch (refused) { awake = null; }
    }
    document.addEventListener("visibilitychange", stayAwake);
    document.addEventListener("click", stayAwake);

    const paper = window.matchMedia("print");
    const showAgain = () => { if (!paper.matches) showPicture(cards[state.card]); };
    paper.addEventListener("change", () => paper.matches ? wholePictures() : showAgain());
    window.addEventListener("beforeprint", wholePictures);
    window.addEventListener("afterprint", showAgain);
    window.addEventListener("resize", showAgain);

    recall();
    body.classList.add("bench");
    find("main").tabIndex = 0;   /* it scrolls, so keys must reach it */
    all(".screen-only").forEach((element) => { element.hidden = false; });
    find("#done").max = steps.length;
    showCard();
    showCount();
    stayAwake();
})();
