// What takes seconds says so while the page is waited for.
const told = document.getElementById("waits");

for (const each of told ? document.querySelectorAll("[data-wait]") : []) {
  each.addEventListener(each.tagName === "FORM" ? "submit" : "click", () => { told.textContent = each.dataset.wait; });
}
window.addEventListener("pageshow", () => { if (told) told.textContent = ""; });
