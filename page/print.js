// On paper every storey is there, each with its name, not only the one that was on the screen.

// section: of the drawing; make(): the other storeys as elements. They stand there while it is printed, and no longer. paper(is): it
// is printed, or no longer.
export function printAll(section, make, paper) {
  const show = (is) => {
    paper(is);
    section.querySelectorAll(".paper").forEach((one) => one.remove());
    if (is) section.append(...make());
  };
  window.addEventListener("beforeprint", () => show(true));
  window.addEventListener("afterprint", () => show(false));
  window.matchMedia("print").addEventListener("change", (event) => show(event.matches));
}
