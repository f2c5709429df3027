// provisional: replaced by the module that puts in parts
export class Tutorial {
  constructor(frame) { this.frame = frame; }
  show(message) {
    const doc = this.frame.contentDocument;
    if (message.head) doc.head.innerHTML = message.head.replace(/^[\s\S]*<head>/, "").replace(/<\/head>[\s\S]*$/, "");
    for (const [key, html] of Object.entries(message.parts)) doc.body.innerHTML = html;
  }
  units(system) { const one = this.frame.contentDocument.getElementById(system); if (one) one.checked = true; }
}
