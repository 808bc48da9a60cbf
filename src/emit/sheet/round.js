/* A place turned round the rod's axis. The page holds its surface unrolled. That is painted once and added up along every
   column, in light, from the cut on; then whatever a pixel of the rod shows at any angle, be it the mean of many strands
   near an edge, is the difference of two sums. Light and shadow stay where they are: they are painted once, too. */
const ROUND_ROWS = 1024;          /* a turn, in parts: a power of two */
const ROUND_CELLS = 2400000;      /* columns times parts that are kept at most */
const roundTurn = (part) => part & (ROUND_ROWS - 1);
/* sRGB (IEC 61966-2-1): what a code gives in light, 0 to 65535, and the code of a light, by its upper 12 bits. */
const lightOf = Int32Array.from({ length: 256 }, (_, code) =>
    Math.round(65535 * (code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4)));
const codeOf = Uint8Array.from({ length: 4096 }, (_, step) => {
    const light = (step + 0.5) / 4096;
    return Math.round(255 * (light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055));
});
/* Parts of a turn from the middle to what is seen so far below it, of the rod's half there: -1 to 1, in steps. */
const ROUND_SINES = 4096;
const partAt = Int16Array.from({ length: 2 * ROUND_SINES + 1 }, (_, at) =>
    Math.round(Math.asin(at / ROUND_SINES - 1) / (2 * Math.PI) * ROUND_ROWS));

const sizeOf = (template) => find("svg", template.content).viewBox.baseVal.width;
/* Pairs of page x and the rod's half there; between them it is straight. */
function outlineOf(template) {
    const numbers = template.dataset.outline.split(" ").map(Number);
    return numbers.filter((_, at) => at % 2 === 0).map((x, at) => ({ x, half: numbers[2 * at + 1] }));
}
/* The rod's half at the middle of each column, in pixels. */
function halvesOf(outline, columns, scale) {
    const halves = new Float64Array(columns);
    for (let column = 0, at = 0; column < columns; column++) {
        const x = (column + 0.5) / scale;
        while (at + 2 < outline.length && outline[at + 1].x <= x)
            at++;
        const from = outline[at], to = outline[at + 1], part = to.x > from.x ? Math.min((x - from.x) / (to.x - from.x), 1) : 0;
        halves[column] = (from.half + part * (to.half - from.half)) * scale;
    }
    return halves;
}
const named = (content, reference) => find("[id='" + /#([^)]*)/.exec(reference)[1] + "']", content);
/* Paths as a browser would paint them; shaded ones are what the light does, and begin what is not turned. */
function paintShapes(pen, content, within, takes) {
    for (const shape of within.children) {
        const fill = shape.getAttribute("fill") || "", isShaded = fill.startsWith("url");
        if (shape.matches("g")) {
            pen.save();
            pen.clip(new Path2D(find("path", named(content, shape.getAttribute("clip-path"))).getAttribute("d")));
            paintShapes(pen, content, shape, takes);
            pen.restore();
        } else if (shape.matches("path") && takes(shape)) {
            const path = new Path2D(shape.getAttribute("d")), stroke = shape.getAttribute("stroke");
            pen.fillStyle = isShaded ? gradientOf(pen, shape, named(content, fill)) : fill;
            if (fill !== "none")
                pen.fill(path);
            if (stroke) {
                pen.strokeStyle = stroke;
                pen.lineWidth = Number(shape.getAttribute("stroke-width"));
                pen.stroke(path);
            }
        }
    }
}
/* From the upper edge of the shape to its lower one; it is measured where it stands. */
function gradientOf(pen, shape, gradient) {
    const box = shape.getBBox(), shade = pen.createLinearGradient(0, box.y, 0, box.y + box.height);
    for (const stop of gradient.children) {
        const code = stop.getAttribute("stop-color") === "#fff" ? "255, 255, 255, " : "0, 0, 0, ";
        shade.addColorStop(Number(stop.getAttribute("offset")), "rgba(" + code + stop.getAttribute("stop-opacity") + ")");
    }
    return shade;
}
function penOf(width, height, reads) {
    const canvas = document.createElement("canvas");
    canvas.width = width;
    canvas.height = height;
    return canvas.getContext("2d", { willReadFrequently: reads });
}
/* In the colour that sets it off from a dark ground; light ones have none. */
function drawRim(pen, halves, height) {
    pen.setTransform(1, 0, 0, 1, 0, height / 2);
    pen.strokeStyle = getComputedStyle(find("canvas", turned)).stroke;
    for (const side of [-1, 1]) {
        pen.beginPath();
        halves.forEach((half, column) => pen.lineTo(column + 0.5, side * (half + 0.5)));
        pen.stroke();
    }
}
/* What the light does to it, of that height, the axis in its middle. svg stands in the page meanwhile. */
function paintLight(svg, axis, halves, height, scale) {
    const columns = halves.length, pen = penOf(columns, height, false), shaded = all("path[fill^='url']", svg)[0];
    let isOn = false;
    pen.setTransform(scale, 0, 0, scale, 0, height / 2 - axis * scale);
    pen.lineJoin = "round";
    paintShapes(pen, svg, svg, (shape) => (isOn = isOn || shape === shaded));
    drawRim(pen, halves, height);
    return pen.canvas;
}
/* The light of each column's parts from the cut on, added up: three numbers a part, and one more at the end. */
function addUp(svg, axis, halves, scale) {
    const columns = halves.length, height = Math.ceil(2 * axis * scale), pen = penOf(columns, height, true);
    const shaded = all("path[fill^='url']", svg)[0], sums = new Int32Array(columns * (ROUND_ROWS + 1) * 3);
    let isOver = false;
    pen.setTransform(scale, 0, 0, scale, 0, 0);
    pen.lineJoin = "round";
    paintShapes(pen, svg, svg, (shape) => !(isOver = isOver || shape === shaded));
    const seen = pen.getImageData(0, 0, columns, height).data;
    for (let column = 0; column < columns; column++) {
        const half = Math.PI * halves[column], middle = axis * scale, most = Math.max(half - 1, 0);
        for (let part = 0, to = column * 3; part < ROUND_ROWS; part++, to += columns * 3) {
            const off = ((part + 0.5) / ROUND_ROWS * 2 - 1) * half;
            const row = Math.min(Math.floor(middle + Math.min(Math.max(off, -most), most)), height - 1);
            const at = (row * columns + column) * 4, next = to + columns * 3;
            sums[next] = sums[to] + lightOf[seen[at]];
            sums[next + 1] = sums[to + 1] + lightOf[seen[at + 1]];
            sums[next + 2] = sums[to + 2] + lightOf[seen[at + 2]];
        }
    }
    return sums;
}
/* Of each pixel's upper edge, one row more than there are pixels, where on the surface it lies; and how much of each
   pixel the rod covers. */
function rowsOf(halves, height) {
    const columns = halves.length, edges = new Int16Array(columns * (height + 1)), cover = new Uint8Array(columns * height);
    for (let row = 0, at = 0; row <= height; row++) {
        for (let column = 0; column < columns; column++, at++) {
            const half = halves[column], off = row - height / 2;
            edges[at] = partAt[Math.round((Math.min(Math.max(off / half, -1), 1) + 1) * ROUND_SINES)];
            if (row < height)
                cover[at] = Math.round(255 * Math.max(Math.min(off + 1, half) - Math.max(off, -half), 0));
        }
    }
    return { edges, cover };
}
/* All of a place that stays as it is while it is turned, at so many pixels a page mm. */
function roundOf(template, asked, most) {
    const size = sizeOf(template), scale = Math.min(asked, ROUND_CELLS / ROUND_ROWS / size), columns = Math.max(Math.floor(size * scale), 1);
    const halves = halvesOf(outlineOf(template), columns, scale), axis = Number(template.dataset.axis);
    const height = Math.min(2 * Math.ceil(halves.reduce((widest, half) => Math.max(widest, half), 0) + 2), most);
    const svg = find("svg", template.content).cloneNode(true), room = document.createElement("div");
    room.className = "quiet";
    room.append(svg);
    find("#round-held").append(room);
    const round = { columns, height, scale, halves, facing: Number(template.dataset.facing), sums: addUp(svg, axis, halves, scale),
        light: paintLight(svg, axis, halves, height, scale), ...rowsOf(halves, height) };
    room.remove();
    return round;
}
/* What is seen of its columns from `first` on where that clock angle, in degrees, faces one: into `image`. */
function turnRound(round, facing, first, image) {
    const { columns, height, sums, edges, cover } = round, shown = Math.min(image.width, columns - first), data = image.data;
    const shift = ROUND_ROWS / 2 + Math.round((facing - round.facing) / 360 * ROUND_ROWS), line = columns * 3, end = ROUND_ROWS * line;
    for (let row = 0; row < height; row++) {
        let pixel = row * image.width * 4, at = row * columns + first;
        for (let column = first; column < first + shown; column++, at++, pixel += 4) {
            const many = Math.max(edges[at + columns] - edges[at], 1), from = roundTurn(edges[at] + shift), to = from + many;
            const before = from * line + column * 3, isCut = to > ROUND_ROWS, last = (isCut ? to - ROUND_ROWS : to) * line + column * 3;
            for (let part = 0; part < 3; part++) {
                const sum = sums[last + part] - sums[before + part] + (isCut ? sums[end + column * 3 + part] : 0);
                data[pixel + part] = codeOf[Math.floor(sum / many) >> 4];
            }
            data[pixel + 3] = cover[at];
        }
    }
}
