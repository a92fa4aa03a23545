// The page that brings a file in: a file may be dropped, and how far it has been sent is told. The form works without this.
const form = document.getElementById("bringing");

if (form) {
  const drop = document.getElementById("drop"), file = form.elements.file, said = document.getElementById("sent"), bar = document.getElementById("how-far");
  for (const name of ["dragenter", "dragover"]) {
    drop.addEventListener(name, (event) => { event.preventDefault(); drop.classList.add("over-it"); });
  }
  drop.addEventListener("dragleave", () => drop.classList.remove("over-it"));
  drop.addEventListener("drop", (event) => {
    event.preventDefault();
    drop.classList.remove("over-it");
    if (event.dataTransfer.files.length) file.files = event.dataTransfer.files;
  });
  for (const choice of form.querySelectorAll('input[name="source"]')) choice.addEventListener("change", fit);
  fit();
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const most = Number(form.dataset.largest) * 1024 * 1024;
    if (file.files[0]?.size > most) {
      said.textContent = form.dataset.tooLarge;
      return;
    }
    send();
  });

  function fit() {
    const source = form.elements.source.value;
    for (const part of form.querySelectorAll(".of-course")) part.hidden = source !== "course";
    for (const part of form.querySelectorAll(".of-walk")) part.hidden = source !== "walk";
    for (const part of form.querySelectorAll(".of-adding")) part.hidden = source === "course";
  }

  function send() {
    const request = new XMLHttpRequest();
    request.open("POST", form.action);
    bar.hidden = false;
    request.upload.addEventListener("progress", (event) => {
      if (!event.lengthComputable) return;
      bar.value = event.loaded / event.total;
      said.textContent = event.loaded < event.total ? `${form.dataset.sending}: ${Math.round((100 * event.loaded) / event.total)} %` : form.dataset.reading;
      if (event.loaded === event.total) bar.removeAttribute("value");
    });
    request.addEventListener("load", () => arrived(request));
    request.addEventListener("error", () => { bar.hidden = true; said.textContent = document.documentElement.dataset.stopped; });
    request.send(new FormData(form));
  }

  // What was done leads on to another address; what was not is told above the form, which keeps what was typed.
  function arrived(request) {
    bar.hidden = true;
    said.textContent = "";
    if (request.status < 400) {
      location.assign(request.responseURL);
      return;
    }
    const page = new DOMParser().parseFromString(request.responseText, "text/html"), told = page.querySelector(".err");
    document.querySelector(".bringing .err")?.remove();
    if (!told) {
      said.textContent = request.status === 413 ? form.dataset.tooLarge : request.statusText;
      return;
    }
    form.before(document.adoptNode(told));
    form.previousElementSibling.scrollIntoView({ block: "nearest" });
  }
}
