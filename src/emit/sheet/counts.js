/* What is counted in a card. A step tells one or more actions; those that make turns are its courses, counted one after
   the other. `start` and `end` are turns of the step before and after a course. */
const known = { actions: new Map(), courses: new Map(), steps: new Map() };   /* they never change */
const once = (made, card, make) => made.get(card) || made.set(card, make()).get(card);
const actionsOf = (card) => once(known.actions, card, () => all(".actions > li", card));
const stepsOf = (rod) => once(known.steps, rod, () => all(".step", rod));
const isCounted = (element) => Number(element.dataset.turns) > 0;

const coursesOf = (card) => once(known.courses, card, () => {
    const actions = actionsOf(card).filter(isCounted), counted = actions.length ? actions : [card].filter(isCounted);
    let end = 0;
    return counted.map((element) => {
        const start = end;
        end += Number(element.dataset.turns);
        return { element, start, end };
    });
});
const turnsOf = (at) => coursesOf(cards[at]).reduce((sum, course) => course.end, 0);

/* The course that is counted after so many turns, or was last; of one action alone, if `action` is its number and not -1.
   Nothing where nothing is counted. */
function courseAt(card, turns, action) {
    const courses = coursesOf(card), element = action < 0 ? null : actionsOf(card)[action];
    return courses.find((course) => element ? course.element === element : course.end > turns) || (element ? undefined : courses.at(-1));
}
/* What hands do from the course before this one on: of a step that is told as a whole, while it is counted. */
function wordsAt(card, turns) {
    const courses = coursesOf(card), actions = actionsOf(card), at = courses.findIndex((course) => course.end > turns);
    if (!courses.length || !actions.length)
        return [];
    const numbers = courses.map((course) => actions.indexOf(course.element));
    const told = at < 0 ? actions.slice(numbers.at(-1) + 1)
        : actions.slice(at > 0 ? numbers[at - 1] + 1 : numbers[0], numbers[at] + 1);
    return told.map((action) => find(".does", action).textContent);
}
