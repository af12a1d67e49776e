// Asks before a form is sent. See templates/components/confirm.html.
(() => {
  const box = document.getElementById("confirm");
  const says = document.getElementById("confirm-says");
  const yes = box.querySelector("[value=yes]");
  let agreed = null;
  document.addEventListener("submit", (event) => {
    const form = event.target, button = event.submitter;
    const question = button?.dataset.confirm || form.dataset.confirm;
    if (!question) return;
    if (agreed === form) { agreed = null; return; }
    event.preventDefault();
    event.stopImmediatePropagation();
    says.textContent = question;
    yes.textContent = button?.dataset.confirmYes || form.dataset.confirmYes || button?.textContent.trim() || "Yes";
    box.returnValue = "no";
    box.onclose = () => {
      if (box.returnValue !== "yes") return;
      agreed = form;
      form.requestSubmit(button);
    };
    box.showModal();
  }, true);
})();
