// Choices of this phone: kept in localStorage, since they may be lost without harm.

const DEFAULTS = { theme: "sun", handsFree: "off", readAloud: "off" };
export const THEMES = { sun: "Sunlight", dark: "Dark", auto: "As the phone" };

export class Settings extends EventTarget {
  get(name) {
    try {
      return localStorage.getItem(`hatchnote.${name}`) ?? DEFAULTS[name];
    } catch {
      return DEFAULTS[name];
    }
  }

  set(name, value) {
    try {
      localStorage.setItem(`hatchnote.${name}`, value);
    } catch {
      // a private window may refuse; the choice then lasts for this page
    }
    this.apply();
    this.dispatchEvent(new Event("change"));
  }

  apply() {
    document.documentElement.dataset.theme = this.get("theme");
  }
}
