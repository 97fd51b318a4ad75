// Lets a reader ask a chart for its values: by pointing at it, or one by one with a slider that keys and fingers move.
// The values stand in the page, beside the same numbers in a table; without scripts the table is there alone.
"use strict";

{
  const SVG = "http://www.w3.org/2000/svg";

  const shown = figure => Array.from(figure.querySelectorAll("svg.chart")).find(svg => svg.getClientRects().length > 0);

  const places = svg => Array.from(svg?.querySelectorAll(".values circle") ?? []);

  function ringOf(svg) {
    let ring = svg.querySelector(".value-ring");
    if (!ring) {
      ring = document.createElementNS(SVG, "circle");
      ring.setAttribute("class", "value-ring");
      ring.setAttribute("r", "8");
      svg.append(ring);
    }
    return ring;
  }

  function show(figure, at) {
    const svg = shown(figure);
    const place = places(svg)[at];
    if (!place) {
      return;
    }
    const ring = ringOf(svg);
    ring.setAttribute("cx", place.getAttribute("cx"));
    ring.setAttribute("cy", place.getAttribute("cy"));
    const slider = figure.querySelector(".value-slider");
    slider.max = String(places(svg).length - 1);
    slider.value = String(at);
    slider.setAttribute("aria-valuetext", place.dataset.words);
    // No line ends between a number and its unit.
    figure.querySelector(".value-words").textContent = place.dataset.words.replace(/(\d) (?=\S)/g, "$1\u00A0");
  }

  // A row is pointed at beside its mark too, a moment above and below it; only in a grid do both count alike.
  function weights(all) {
    const steps = all.slice(1).map((place, at) => place.cy.baseVal.value - all[at].cy.baseVal.value);
    if (steps.length > 0 && steps.every(step => step > 5 && Math.abs(step - steps[0]) < 1)) {
      return [0.05, 1];
    }
    return new Set(all.map(place => place.getAttribute("cx"))).size === all.length ? [1, 0.15] : [1, 1];
  }

  function nearest(svg, event) {
    const matrix = svg.getScreenCTM();
    if (!matrix) {
      return -1;
    }
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const all = places(svg);
    const [across, along] = weights(all);
    let best = -1;
    let least = Infinity;
    all.forEach((place, at) => {
      const distance = Math.hypot(across * (place.cx.baseVal.value - point.x), along * (place.cy.baseVal.value - point.y));
      if (distance < least) {
        least = distance;
        best = at;
      }
    });
    return best;
  }

  function readable(figure) {
    const picture = figure.querySelector(".picture");
    const svg = shown(figure) ?? figure.querySelector("svg.chart");
    if (!picture || places(svg).length === 0) {
      return;
    }
    const reader = document.createElement("p");
    reader.className = "value-reader";
    const slider = document.createElement("input");
    slider.type = "range";
    slider.className = "value-slider";
    slider.min = "0";
    slider.max = String(places(svg).length - 1);
    slider.value = "0";
    slider.setAttribute("aria-label", Texts.fill(FrameTexts.values_of, { title: svg.querySelector("title").textContent }));
    slider.setAttribute("aria-valuetext", places(svg)[0].dataset.words);
    const words = document.createElement("span");
    words.className = "value-words";
    words.textContent = FrameTexts.how_to_read;
    reader.append(slider, words);
    picture.after(reader);
    for (const event of ["input", "focus"]) {
      slider.addEventListener(event, () => show(figure, Number(slider.value)));
    }
    for (const event of ["pointermove", "pointerdown"]) {
      picture.addEventListener(event, pointed => {
        const drawn = shown(figure);
        if (drawn) {
          show(figure, nearest(drawn, pointed));
        }
      });
    }
  }

  document.querySelectorAll(".figure").forEach(readable);
}
