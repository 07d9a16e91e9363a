/**
 * Edits that the server has not confirmed, and a form that is half filled in, kept in this browser: a closed
 * tab, a crash or a dead line loses nothing. localStorage writes before the next line runs, so an edit is kept
 * from the moment it is made.
 */

const key = (/** @type {string} */ ticket) => `hatchnote-office:edits:${ticket}`;
const formKey = (/** @type {string} */ ticket) => `hatchnote-office:form:${ticket}`;

/** @param {string} ticket @returns {import("./ticket.js").Edit[]} */
export function kept(ticket) {
  try {
    const value = JSON.parse(localStorage.getItem(key(ticket)) ?? "[]");
    return Array.isArray(value) ? value : [];
  } catch {
    return [];
  }
}

/**
 * Keep these edits and let go of those that are done. Another tab may hold the same ticket open, so what it has kept
 * stays.
 * @param {string} ticket @param {import("./ticket.js").Edit[]} edits @param {Set<string>} [done] ids
 */
export function keep(ticket, edits, done = new Set()) {
  const all = new Map([...kept(ticket), ...edits].map((e) => [e.id, e]));
  for (const id of done) all.delete(id);
  if (all.size) localStorage.setItem(key(ticket), JSON.stringify([...all.values()]));
  else localStorage.removeItem(key(ticket));
}

/** @param {string} ticket @returns {{item: string, values: Record<string, string>} | null} */
export function keptForm(ticket) {
  try {
    return JSON.parse(localStorage.getItem(formKey(ticket)) ?? "null");
  } catch {
    return null;
  }
}

/** @param {string} ticket @param {{item: string, values: Record<string, string>} | null} form */
export function keepForm(ticket, form) {
  if (form) localStorage.setItem(formKey(ticket), JSON.stringify(form));
  else localStorage.removeItem(formKey(ticket));
}
