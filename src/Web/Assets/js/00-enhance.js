// Makes links and forms swap the page instead of loading it anew, redraws live forms while one types, and lets steppers step at once.
// Every page works without this file. Nothing here decides anything: the server's answer is shown as it is.
(() => {
  "use strict";
  const root = document.documentElement;
  root.classList.add("js");
  let visit = 0;

  const local = (url) => new URL(url, location.href).origin === location.origin;
  const offline = (on) => { const line = document.getElementById("ww-offline"); if (line) line.hidden = !on; };
  addEventListener("online", () => offline(false));
  const isPage = (response) => (response.headers.get("content-type") || "").startsWith("text/html") && !response.headers.get("content-disposition");

  function show(html, keepScroll) {
    const next = new DOMParser().parseFromString(html, "text/html");
    // A new version of our own files: load the page whole.
    for (const selector of ['link[rel="stylesheet"]', "script[src]"]) {
      const now = document.querySelector(selector), then = next.querySelector(selector);
      if (!then || now.outerHTML !== then.outerHTML) return false;
    }
    document.title = next.title;
    for (const name of ["data-theme", "data-hand", "data-text"]) root.setAttribute(name, next.documentElement.getAttribute(name) || "");
    document.querySelector('meta[name="color-scheme"]').replaceWith(next.querySelector('meta[name="color-scheme"]'));
    document.body.replaceWith(next.body);
    if (!keepScroll) scrollTo(0, 0);
    const first = document.querySelector("[autofocus]") || document.querySelector(".notice.wrong, .notice.conflict") || document.getElementById("main");
    if (first) {
      if (!first.hasAttribute("tabindex") && !first.matches("input, select, textarea, button, a")) first.setAttribute("tabindex", "-1");
      first.focus({ preventScroll: !first.matches(".notice") });
    }
    document.dispatchEvent(new CustomEvent("ww:page"));
    return true;
  }

  // A form with files goes by a way that tells how far it is; where the network breaks it tries again. The form's own token keeps it from being saved twice.
  const tries = 5, pause = (n) => new Promise((on) => {
    const timer = setTimeout(done, 1000 * 2 ** n); // 1, 2, 4, 8 s; at once when the device is back in the network
    function done() { clearTimeout(timer); removeEventListener("online", done); on(); }
    addEventListener("online", done);
  });
  function tell(text, part) {
    const line = document.getElementById("ww-sending");
    if (!line) return;
    line.hidden = !text;
    line.firstElementChild.textContent = text;
    line.querySelector("progress").value = part;
  }
  const once = (url, body) => new Promise((on, fail) => {
    const request = new XMLHttpRequest();
    request.open("POST", url);
    request.responseType = "blob";
    request.setRequestHeader("X-Enhanced", "1");
    request.upload.onprogress = (event) => event.lengthComputable && tell(`Sending: ${Math.floor((100 * event.loaded) / event.total)} %`, event.loaded / event.total);
    request.onload = () => on({
      url: request.responseURL, redirected: request.responseURL !== new URL(url, location.href).href,
      headers: { get: (name) => request.getResponseHeader(name) }, text: () => request.response.text(), blob: async () => request.response,
    });
    request.onerror = request.ontimeout = () => fail(new Error("network"));
    request.send(body);
  });
  async function send(url, options) {
    if (!(options.body instanceof FormData)) return fetch(url, { credentials: "same-origin", ...options, headers: { "X-Enhanced": "1" } });
    try {
      for (let n = 0; ; n++) {
        try {
          return await once(url, options.body);
        } catch (error) {
          if (n + 1 >= tries) throw error;
          tell(`The shop's computer does not answer; trying again (${n + 2} of ${tries}).`, 0);
          await pause(n);
        }
      }
    } finally {
      tell("", 0);
    }
  }

  async function go(url, options, push) {
    const mine = ++visit;
    offline(false);
    root.setAttribute("data-loading", "");
    try {
      const response = await send(url, options);
      if (mine !== visit) return;
      if (!isPage(response)) {
        if (options.method === "POST") {
          // A file made by a form (a receipt): hand it over as a download.
          const blob = await response.blob();
          const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(blob), target: "_blank", rel: "noopener" });
          const named = /filename="?([^";]+)/.exec(response.headers.get("content-disposition") || "");
          if (named) link.download = named[1];
          link.click();
          setTimeout(() => URL.revokeObjectURL(link.href), 60000);
        } else location.href = response.url;
        return;
      }
      const html = await response.text();
      if (mine !== visit) return;
      const at = new URL(response.url);
      at.hash = new URL(url, location.href).hash;
      const moves = options.method !== "POST" || response.redirected;
      if (push && moves && at.href !== location.href) {
        history.replaceState({ y: scrollY }, "");
        history.pushState({ y: 0 }, "", at.href);
      }
      if (!show(html, at.hash !== "")) { location.href = moves ? at.href : location.href; return; }
      if (at.hash) document.querySelector(CSS.escape ? "#" + CSS.escape(at.hash.slice(1)) : at.hash)?.scrollIntoView();
    } catch (error) {
      if (mine !== visit) return;
      if (options.method === "POST") offline(true); else location.href = url;
    } finally {
      root.removeAttribute("data-loading");
    }
  }

  document.addEventListener("click", (event) => {
    const step = event.target.closest("button[data-step]");
    if (step) {
      const input = step.parentElement.querySelector("input");
      const value = Number(input.value.trim().replace(",", "."));
      if (Number.isFinite(value)) {
        event.preventDefault();
        const bound = (name, none) => (input.dataset[name] === undefined ? none : Number(input.dataset[name]));
        const next = Math.min(bound("max", Infinity), Math.max(bound("min", -Infinity), value + Number(step.dataset.step)));
        const text = String(Math.round(next * 1e4) / 1e4);
        input.value = input.value.includes(",") ? text.replace(".", ",") : text;
        input.dispatchEvent(new Event("input", { bubbles: true }));
      }
      return;
    }
    const link = event.target.closest("a[href]");
    if (!link || event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    if (link.target || link.hasAttribute("download") || link.dataset.plain !== undefined || !local(link.href) || !link.protocol.startsWith("http")) return;
    if (link.hash && link.pathname === location.pathname && link.search === location.search) return;
    event.preventDefault();
    go(link.href, {}, true);
  });

  const body = (form, submitter) => {
    const data = new FormData(form, submitter);
    return form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
  };

  function tooLarge(form) {
    let all = 0;
    for (const input of form.querySelectorAll('input[type="file"]')) {
      for (const file of input.files) {
        all += file.size;
        if (input.dataset.limit && file.size > Number(input.dataset.limit)) return [input, file.name];
        if (form.dataset.limit && all > Number(form.dataset.limit)) return [input, file.name];
      }
    }
    return null;
  }

  document.addEventListener("submit", (event) => {
    const form = event.target, submitter = event.submitter;
    const action = submitter?.getAttribute("formaction") ? submitter.formAction : form.action;
    if (event.defaultPrevented || form.dataset.plain !== undefined || submitter?.dataset.plain !== undefined || form.target || !local(action)) return;
    event.preventDefault();
    if (form.getAttribute("aria-busy") === "true") return;
    const large = tooLarge(form);
    if (large) {
      large[0].setCustomValidity(`${large[1]} is too large: up to ${Math.floor(Number(large[0].dataset.limit || form.dataset.limit) / 1048576)} MB would be right.`);
      large[0].reportValidity();
      large[0].addEventListener("change", () => large[0].setCustomValidity(""), { once: true });
      return;
    }
    form.setAttribute("aria-busy", "true");
    const done = form.method === "post"
      ? go(action, { method: "POST", body: body(form, submitter) }, true)
      : go(action.split("?")[0] + "?" + new URLSearchParams(new FormData(form, submitter)), {}, true);
    done.finally(() => form.removeAttribute("aria-busy"));
  });

  // Live forms: <form data-live="#figure, #result">; only those parts are swapped, what is being typed stays.
  const waiting = new WeakMap();
  async function redraw(form) {
    const own = (waiting.get(form)?.turn ?? 0) + 1;
    waiting.set(form, { turn: own });
    const post = form.method === "post";
    const data = new FormData(form);
    if (post) data.set("_preview", "1");
    for (const [name, value] of [...data]) if (value instanceof File) data.delete(name);
    const query = new URLSearchParams(data);
    try {
      const action = form.dataset.liveAction || form.action;
      const response = await fetch(post ? action : action.split("?")[0] + "?" + query, post ? { method: "POST", body: query, credentials: "same-origin" } : { credentials: "same-origin" });
      if (!isPage(response) || waiting.get(form).turn !== own || !form.isConnected) return;
      const next = new DOMParser().parseFromString(await response.text(), "text/html");
      for (const selector of form.dataset.live.split(",")) {
        const now = document.querySelector(selector), then = next.querySelector(selector);
        if (now && then) now.replaceWith(then);
      }
      if (!post) history.replaceState(history.state, "", response.url);
    } catch { /* The next keystroke tries again; the button always works. */ }
  }
  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (!form?.dataset.live || event.target.type === "file") return;
    clearTimeout(form.wwTimer);
    form.wwTimer = setTimeout(() => redraw(form), 250);
  });

  history.scrollRestoration = "manual";
  addEventListener("popstate", async (event) => {
    await go(location.href, {}, false);
    scrollTo(0, event.state?.y ?? 0);
  });
})();
