// Pages work without this. It keeps the place on the page when a try-out goes on, lets a drawing be touched, and keeps
// the theme of this device.
"use strict";

const theme = {
  name: "doorwright-theme",
  show() { const t = localStorage.getItem(this.name); if (t) document.documentElement.dataset.theme = t; else delete document.documentElement.dataset.theme; },
  set(t) { if (t) localStorage.setItem(this.name, t); else localStorage.removeItem(this.name); this.show(); },
};
theme.show();

// swap fetches a page and puts its content in place of the present one.
async function swap(url, push, body, sent) {
  const answer = await fetch(url, body ? { method: "POST", body } : {}).catch(() => null);
  if (!answer) return unanswered(body);
  if (body) url = answer.url;
  const next = new DOMParser().parseFromString(await answer.text(), "text/html");
  const here = document.getElementById("main");
  const focused = document.activeElement && here.contains(document.activeElement) ? [...here.querySelectorAll("a,button,input,select")].indexOf(document.activeElement) : -1;
  const unfolded = [...here.querySelectorAll("details[id][open]")].map(part => part.id);
  const kept = typed(here, sent), full = here.querySelector(".full input")?.checked;
  here.replaceChildren(...next.getElementById("main").childNodes);
  for (const [form, name, value] of kept) {
    const field = document.getElementById(form)?.elements[name];
    if (field) field.value = value;
  }
  for (const id of unfolded) here.querySelector(`details:not(.done)[id="${CSS.escape(id)}"]`)?.setAttribute("open", "");
  const size = here.querySelector(".full input");
  if (size && full) size.checked = true;
  document.title = next.title;
  if (push) history.pushState({ swapped: true }, "", url);
  ready();
  const again = here.querySelectorAll("a,button,input,select")[focused];
  if (again) again.focus({ preventScroll: true });
  const told = body && here.querySelector("[data-told]");
  if (!told) return;
  told.scrollIntoView({ block: "nearest" });
  if (told.matches("summary")) told.focus({ preventScroll: true });
}

// typed is what was half filled in, in forms with a name other than the one that was sent: form, field and value.
function typed(here, sent) {
  return [...here.querySelectorAll("form[id]")].filter(form => form !== sent).flatMap(form =>
    [...form.querySelectorAll("input:not([type=hidden]),select")].filter(field => field.value !== (field.defaultValue ?? "")).map(field => [form.id, field.name, field.value]));
}

// unanswered says that the machine was not reached, so that nobody takes for kept what is not.
function unanswered(body) {
  const here = document.getElementById("main");
  here.querySelector(".unanswered")?.remove();
  const says = document.createElement("p");
  says.className = "mistake unanswered";
  says.setAttribute("role", "alert");
  says.textContent = "There is no answer." + (body ? " Nothing was kept." : "") + " Press again when there is a connection.";
  here.prepend(says);
}

document.addEventListener("click", e => {
  const link = e.target.closest("[data-swap] a");
  if (link && !e.ctrlKey && !e.metaKey && !e.shiftKey && link.origin === location.origin && !link.getAttribute("href").startsWith("#")) {
    e.preventDefault();
    swap(link.href, true);
    return;
  }
  const area = e.target.closest("[data-pick]");
  const part = area && partAt(e);
  if (part) {
    const url = new URL(area.dataset.pick, location.href);
    url.searchParams.set("pick", part.dataset.of);
    swap(url.href, true);
  }
});

// partAt is the part of a drawing at a click, or the nearest that a thumb may have meant: a core is a few pixels wide.
function partAt(e) {
  for (const far of [0, 4, 8, 12]) {
    for (let turn = 0; turn < (far ? 8 : 1); turn++) {
      const x = e.clientX + far * Math.cos(turn * Math.PI / 4), y = e.clientY + far * Math.sin(turn * Math.PI / 4);
      const part = document.elementFromPoint(x, y)?.closest(".drawing [data-of]");
      if (part) return part;
    }
  }
  return null;
}
document.addEventListener("submit", e => {
  if (!e.target.closest("[data-swap]")) return;
  e.preventDefault();
  const data = new URLSearchParams(new FormData(e.target, e.submitter));
  if (e.target.method === "get") swap(e.target.action.split("?")[0] + "?" + data, true);
  else swap(e.target.action, false, data, e.target);
});
document.addEventListener("click", e => {
  const key = e.target.closest("[data-key]");
  if (!key) return;
  const field = key.closest("form").elements.value;
  field.value = keyed(field.value, key.dataset.key);
});
document.addEventListener("change", e => {
  const shown = e.target.closest(".chooser")?.querySelector("[data-chosen]");
  if (shown) shown.textContent = e.target.closest(".card").querySelector("b").textContent;
});
let looking;
document.addEventListener("input", e => {
  const url = e.target.closest("[data-look]")?.dataset.look;
  if (!url) return;
  clearTimeout(looking);
  looking = setTimeout(async () => {
    const answer = await fetch(url, { method: "POST", body: new URLSearchParams(new FormData(e.target.form)) });
    const part = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (answer.ok) document.getElementById("looked").replaceChildren(...part.body.childNodes);
  }, 300);
});
function keyed(value, key) {
  if (key === "⌫") return value.slice(0, -1);
  if (key === "−") return value.startsWith("-") ? value.slice(1) : "-" + value;
  return value + key;
}
// later asks again and again for a part of the page that waits for something, and leaves it alone while somebody is in it.
async function later(part, wait) {
  await new Promise(done => setTimeout(done, wait));
  if (!part.isConnected) return;
  if (part.contains(document.activeElement) || part.querySelector("details[open]")) return later(part, wait);
  const answer = await fetch(part.dataset.from);
  const next = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById(part.id);
  if (!answer.ok || !next || !part.isConnected) return;
  part.replaceWith(next);
  if (next.hasAttribute("data-later")) later(next, Math.min(wait * 1.5, 15000));
}
addEventListener("popstate", () => swap(location.href, false));

function ready() {
  for (const part of document.querySelectorAll("[data-later]")) later(part, 1000);
  // The pad is the keyboard of this field: that of the phone would lie over it.
  for (const field of document.querySelectorAll("[data-padded]")) field.inputMode = "none";
  for (const choose of document.querySelectorAll("[data-theme-choice]")) {
    choose.value = localStorage.getItem(theme.name) || "";
    choose.onchange = () => theme.set(choose.value);
  }
}
ready();
