// What Streamlit's page lacks for screen readers: its language, a main landmark, names without icons.
// And what it says in English, with a word that no visitor knows, where the connection is lost.
(() => {
  document.documentElement.lang = "LANGUAGE";
  window.pfNoConnection = NO_CONNECTION;
  const mend = () => {
    const main = document.querySelector('[data-testid="stMain"]');
    if (main && main.getAttribute("role") !== "main") main.setAttribute("role", "main");
    const footer = document.querySelector(".st-key-footer");
    if (footer && footer.getAttribute("role") !== "contentinfo")
      footer.setAttribute("role", "contentinfo");
    document
      .querySelectorAll('[data-testid="stIconMaterial"]:not([aria-hidden])')
      .forEach((icon) => icon.setAttribute("aria-hidden", "true"));
    // The button of a field for files is named by its field.
    document.querySelectorAll('[data-testid="stFileUploaderDropzone"]').forEach((field) => {
      const button = field.querySelector('button:not([data-testid="stBaseButton-minimal"])');
      const name = field.getAttribute("aria-label");
      if (button && name && button.getAttribute("aria-label") !== name)
        button.setAttribute("aria-label", name);
    });
    // The cross that puts a file away is named by the file.
    document.querySelectorAll('[data-testid="stFileChip"]').forEach((file) => {
      const button = file.querySelector("button");
      const name = "× " + (file.querySelector('[data-testid="stFileChipName"]')?.textContent ?? "");
      if (button && button.getAttribute("aria-label") !== name)
        button.setAttribute("aria-label", name);
    });
    document.querySelectorAll('[role="dialog"] h2').forEach((title) => {
      const [name, words] = window.pfNoConnection;
      if (title.textContent !== "Connection error" || !title.nextElementSibling) return;
      title.textContent = name;
      title.nextElementSibling.textContent = words;
    });
  };
  mend();
  if (!window.pfMending) {
    window.pfMending = new MutationObserver(mend);
    window.pfMending.observe(document.body, { childList: true, subtree: true });
  }
})();
