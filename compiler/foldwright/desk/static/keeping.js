// How the text is kept: what is on disk, what went wrong, the versions before, and what others did to the recipe.
import { announce, say } from "/static/words.js";

export class Keeping {
  #editor; #line; #standing; #notice; #outside = null; #told = "";

  constructor(editor, line) {
    this.#editor = editor;
    this.#line = line;
    this.#standing = document.getElementById("standing");
    this.#notice = document.getElementById("notice");
    // What is typed is not saved, even before anybody has told so.
    editor.addEventListener("typed", () => {
      if (!this.#standing.classList.contains("trouble")) this.#stand(say("desk-script.typing"));
    });
    document.getElementById("keep").addEventListener("click", () => this.keep());
    document.getElementById("show-versions").addEventListener("click", () => this.#versions());
    for (const button of document.querySelectorAll("dialog .close")) button.addEventListener("click", () => button.closest("dialog").close());
  }

  keep() {
    if (this.#line.send({ do: "keep" })) this.#told = "keeping";
    else this.down();
  }

  down() {
    this.#stand(say("desk-script.down"), true);
    this.#tell(say("desk-script.down-how"));
  }

  // Something of ours went wrong with this text; what was typed is kept all the same.
  trouble() { this.#tell(say("desk-script.trouble")); }

  tooLong() { this.#tell(say("desk-script.too-long")); }

  state(now) {
    const asked = this.#told === "keeping";
    if (now.trouble) this.#stand(now.trouble, true);
    else if (now.kept) this.#stand(say("desk-script.kept"));
    else this.#stand(say(now.written ? "desk-script.drafted" : "desk-script.typing"));
    if (asked && now.kept) announce(say("desk-script.kept"));
    if (asked) this.#told = "";
    this.#outside = now.outside;
    if (now.outside) this.#tell(say(now.outside.gone ? "desk-script.gone" : "desk-script.outside"), [say("desk-script.look-at-both"), () => this.#both()]);
    else if (now.trouble) this.#tell(now.trouble);
    else if (now.drafted && !now.kept) this.#tell(say("desk-script.found-draft"));
    else this.#tell("");
  }

  #stand(text, trouble = false) {
    this.#standing.textContent = text;
    this.#standing.classList.toggle("trouble", trouble);
  }

  #tell(text, doing = null) {
    if (this.#notice.dataset.text === text) return;
    this.#notice.dataset.text = text;
    this.#notice.hidden = !text;
    const words = document.createElement("p");
    words.textContent = text;
    this.#notice.replaceChildren(words);
    if (!doing) return;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = doing[0];
    button.addEventListener("click", doing[1]);
    this.#notice.append(button);
  }

  #both() {
    const dialog = document.getElementById("outside");
    const { theirs, gone, unreadable, choices } = this.#outside;
    document.getElementById("outside-how").textContent = unreadable || say(gone ? "desk-script.gone-how" : "desk-script.outside-how");
    document.getElementById("outside-mine").textContent = this.#editor.text;
    document.getElementById("outside-theirs").textContent = theirs ?? "";
    const row = document.getElementById("outside-choices");
    row.replaceChildren(
      ...choices.map((choice) => {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = say(`desk-script.choose-${choice}`);
        button.addEventListener("click", () => {
          this.#line.send({ do: "choose", what: choice });
          dialog.close();
          this.#editor.focus();
        });
        return button;
      }),
    );
    dialog.showModal();
  }

  async #versions() {
    const dialog = document.getElementById("versions");
    const list = document.getElementById("version-list");
    const shown = document.getElementById("version-text");
    const take = document.getElementById("version-take");
    shown.textContent = "";
    take.disabled = true;
    const answer = await this.#line.ask({ do: "versions" });
    const found = answer?.versions ?? [];
    list.replaceChildren(
      ...found.map(({ name, when }) => {
        const item = document.createElement("li");
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = new Date(when).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });
        button.setAttribute("aria-pressed", "false");
        button.addEventListener("click", async () => {
          const version = await this.#line.ask({ do: "version", what: name });
          for (const other of list.querySelectorAll("button")) other.setAttribute("aria-pressed", String(other === button));
          shown.textContent = version?.text ?? "";
          take.disabled = !shown.textContent;
        });
        item.append(button);
        return item;
      }),
    );
    if (!found.length) list.replaceChildren(Object.assign(document.createElement("li"), { textContent: say("desk-script.no-versions") }));
    take.onclick = () => {
      const text = shown.textContent;
      const now = this.#editor.text;
      dialog.close();
      // As if typed: what was there comes back with undo.
      this.#editor.change([{ start: 0, end: now.length, new: text }]);
      announce(say("desk-script.taken-back"));
    };
    dialog.showModal();
  }
}
