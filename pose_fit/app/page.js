// What Streamlit's page lacks for screen readers: its language, a main landmark, names without icons.
(() => {
  document.documentElement.lang = "LANGUAGE";
  const mend = () => {
    const main = document.querySelector('[data-testid="stMain"]');
    if (main && main.getAttribute("role") !== "main") main.setAttribute("role", "main");
    const footer = document.querySelector(".st-key-footer");
    if (footer && footer.getAttribute("role") !== "contentinfo")
      footer.setAttribute("role", "contentinfo");
    document
      .querySelectorAll('[data-testid="stIconMaterial"]:not([aria-hidden])')
      .forEach((icon) => icon.setAttribute("aria-hidden", "true"));
  };
  mend();
  if (!window.pfMending) {
    window.pfMending = new MutationObserver(mend);
    window.pfMending.observe(document.body, { childList: true, subtree: true });
  }
})();
