// Tapping a source tag shows who says so, where and how well it is known, and copies a citation.
// Every sentence and citation comes ready made from data/v1/citations/: nothing is worded or escaped here.
(() => {
  "use strict";
  const ROOT = new URL("../", document.currentScript.src);
  const MARK = "\x1f"; // stands on both sides of a source's id in a citation text
  const files = new Map();
  let dialog, opener;

  const subjectOf = (id) => id.split(".")[0];

  function load(subject) {
    if (!files.has(subject)) {
      const request = fetch(new URL(`data/v1/citations/${subject}.json`, ROOT)).then((answer) => {
        if (!answer.ok) throw new Error(`no citations for ${subject}`);
        return answer.json();
      });
      request.catch(() => files.delete(subject));
      files.set(subject, request);
    }
    return files.get(subject);
  }

  function citation(file, id, style) {
    const item = file.items[id];
    if (style.id === "link") return new URL(item.link, file.site).href;
    const own = item.texts[style.id];
    if (style.between === null) {
      return own.split(MARK).map((piece, place) => (place % 2 ? file.sources[piece].texts[style.id] : piece)).join("");
    }
    const entries = [own, ...item.sources.map((source) => file.sources[source].texts[style.id])];
    return style.start + entries.join(style.between) + style.end;
  }

  function element(name, properties = {}, ...children) {
    const made = Object.assign(document.createElement(name), properties);
    made.append(...children.filter((child) => child !== null && child !== ""));
    return made;
  }

  const paragraph = (text, className = "") => (text ? element("p", { className }, text) : null);

  function sourceLink(file, id) {
    return element("a", { href: new URL(file.sources[id].page, ROOT).href }, file.sources[id].reference);
  }

  function originEntry(file, origin) {
    const line = element("li");
    line.append(origin.source ? sourceLink(file, origin.source) : "No published source");
    if (origin.locator) line.append(element("span", { className: "cite-where" }, `, ${origin.locator}`));
    if (origin.condition) line.append(` (${origin.condition})`);
    if (origin.reported_by) line.append(", as reported by ", sourceLink(file, origin.reported_by));
    line.append(element("span", { className: "cite-grade" }, ` \u2014 ${origin.grade}`));
    return line;
  }

  function otherEntry(file, id) {
    const item = file.items[id];
    const source = item.sources.length ? file.sources[item.sources[0]].short : item.origins[0].grade;
    const button = element("button", { type: "button", className: "cite-other" }, `${item.figure}, ${source}`);
    button.addEventListener("click", () => show(file, id));
    return element("li", {}, button);
  }

  function list(title, entries, open) {
    if (!entries.length) return null;
    const made = element("details", { open }, element("summary", {}, `${title} (${entries.length})`), element("ul", {}, ...entries));
    return made;
  }

  // Fills {name} in a text in one pass, so that a figure with braces stays what it is.
  const filled = (text, fields) => text.replace(/\{(\w+)\}/g, (whole, name) => (name in fields ? fields[name] : whole));

  function reportLinks(file, id) {
    const item = file.items[id];
    const record = filled(file.repository.lines, { file: item.file, line: String(item.line) });
    const fields = { id, label: item.label, figure: item.figure, edition: item.edition, link: new URL(item.link, file.site).href, record };
    const address = new URL(file.repository.new_issue);
    address.searchParams.set("title", filled(file.repository.title, fields));
    address.searchParams.set("body", filled(file.repository.body, fields));
    return element("p", { className: "cite-report" },
      element("a", { href: address.href, rel: "noopener" }, "Report a wrong value"), " \u00b7 ",
      element("a", { href: record, rel: "noopener" }, "Edit this record"));
  }

  function thenLine(item) {
    if (!item.then) return null;
    const link = element("a", { href: new URL(item.then.link, ROOT).href }, `edition ${item.then.edition}`);
    return element("p", { className: "cite-then" }, "It has changed. In ", link, `: ${item.then.figure}`);
  }

  function copyButtons(file, id) {
    const status = element("p", { className: "cite-status" });
    status.setAttribute("role", "status");
    const text = element("textarea", { className: "cite-text", readOnly: true, hidden: true, rows: 6 });
    text.setAttribute("aria-label", "The citation, to copy by hand");
    const buttons = file.styles.map((style) => {
      const button = element("button", { type: "button" }, style.name);
      button.addEventListener("click", () => copy(citation(file, id, style), style.name, status, text));
      return button;
    });
    const group = element("div", { className: "cite-styles" }, ...buttons);
    group.setAttribute("role", "group");
    group.setAttribute("aria-label", "Copy this citation as");
    return element("div", { className: "cite-copy" }, text, status, element("p", { className: "cite-as" }, "Copy this citation as"), group);
  }

  async function copy(content, name, status, text) {
    status.textContent = "";
    try {
      await navigator.clipboard.writeText(content);
      text.hidden = true;
      status.textContent = `Copied as ${name}.`;
    } catch {
      // No clipboard without https or permission: the text is shown, selected, for the reader's own copy command.
      text.value = content;
      text.hidden = false;
      text.focus();
      text.select();
      status.textContent = `${name} citation selected below: copy it with your device's copy command.`;
    }
  }

  function show(file, id) {
    const item = file.items[id];
    const heading = element("h2", { id: "cite-heading", tabIndex: -1 }, item.label);
    const row = element("a", { href: new URL(item.link, ROOT).href }, "Go to its row");
    row.addEventListener("click", () => dialog.close());
    dialog.replaceChildren(
      element("div", { className: "cite-body" },
        heading,
        paragraph(item.figure, item.prose ? "cite-remark" : "cite-figure"),
        ...[thenLine(item), paragraph(item.condition), paragraph(item.caution, "cite-caution"),
          list("Who says so, and where", item.origins.map((origin) => originEntry(file, origin)), item.origins.length < 5),
          paragraph(`${item.standing}.`), paragraph(item.because), paragraph(item.note), paragraph(item.working),
          list("Other values", item.others.map((other) => otherEntry(file, other)), false)].filter(Boolean),
        element("p", { className: "cite-foot" }, row, ` \u00b7 ${item.edition}`),
        reportLinks(file, id)),
      copyButtons(file, id),
      closeButton());
    dialog.firstChild.scrollTop = 0;
    heading.focus();
  }

  function closeButton() {
    const button = element("button", { type: "button", className: "cite-close" }, "Close");
    button.addEventListener("click", () => dialog.close());
    return button;
  }

  function prepare() {
    if (dialog) return;
    dialog = element("dialog", { className: "cite" });
    dialog.setAttribute("aria-labelledby", "cite-heading");
    dialog.addEventListener("click", (event) => event.target === dialog && dialog.close());
    dialog.addEventListener("close", () => opener && opener.focus());
    document.body.append(dialog);
  }

  async function open(tag) {
    const id = tag.dataset.id;
    prepare();
    opener = tag;
    try {
      const file = await load(subjectOf(id));
      if (!file.items[id]) throw new Error(`no citation of ${id}`);
      if (opener !== tag) return;
      if (!dialog.open) dialog.showModal();
      show(file, id);
    } catch {
      location.href = tag.href; // offline, or a page newer than the data: the link still leads to the evidence
    }
  }

  if (typeof HTMLDialogElement !== "function") return;
  for (const tag of document.querySelectorAll("a.tag[data-id]")) tag.setAttribute("aria-haspopup", "dialog");
  document.addEventListener("click", (event) => {
    const tag = event.target.closest ? event.target.closest("a.tag[data-id]") : null;
    if (!tag || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    open(tag);
  });
})();
