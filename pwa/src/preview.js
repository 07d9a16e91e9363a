// What follows from a reading, before its correction is kept. The server works it out: it gets the spoken text with
// the value put in where the old one was said, as when somebody types. The answer counts only when it was worked out
// from the same readings as in the draft; otherwise nothing is shown but that it will be worked out.

/** What the draft has worked out from this reading: without what is unknown and what is only repeated "as read". */
export function follows(machine, reading) {
  return machine.computed.filter((c) => c.from.includes(reading.id) && c.value !== null && c.source !== "as read");
}

/**
 * All that was said, with the values as they are now and `value` for `reading`; null where the words said cannot be
 * found again. `numbers`: the readings of this machine that go in.
 */
export function textWith(document, numbers, reading, value) {
  const texts = new Map(document.dictations.map((d) => [d.id, d.words.map((w) => w.text).join(" ")]));
  // From the end, so that the places before keep their offsets.
  const places = [...numbers].sort((a, b) => b.heard.from - a.heard.from);
  for (const r of places) {
    const text = texts.get(r.heard.dictation);
    if (text === undefined || r.heard.from === null || text.slice(r.heard.from, r.heard.to) !== r.said) return null;
    const now = r.id === reading.id ? value : r.value;
    if (now === null) return null;
    texts.set(r.heard.dictation, `${text.slice(0, r.heard.from)}${now} ${r.unit ?? ""}${text.slice(r.heard.to)}`);
  }
  return [...texts.values()].join("\n");
}

/** The same value in the server's answer, or null when it went by other readings than the draft. */
export function sameIn(answer, computed, numbers, reading, value) {
  const found = answer.computed.find((c) => c.id === computed.id);
  if (!found || found.value === null) return null;
  const there = new Map(answer.facts.flatMap((m) => m.readings).map((r) => [r.id, r]));
  const list = (rs) => rs.map((r) => `${r?.point}=${r?.value}`).sort().join();
  const ours = numbers.filter((r) => computed.from.includes(r.id)).map((r) => ({ ...r, value: r.id === reading.id ? value : r.value }));
  return list(found.from.map((id) => there.get(id))) === list(ours) ? found : null;
}

/** [{name, unit, before, after: the server's computed value or null}] for each value that follows from `reading`. */
export async function preview(api, { document, machine, site_id }, reading, value) {
  const list = follows(machine, reading);
  const numbers = machine.readings.filter((r) => list.some((c) => c.from.includes(r.id)));
  const text = list.length ? textWith(document, numbers, reading, value) : null;
  const json = { text, equipment: machine.tag ? [machine.tag] : [], ...(site_id && { site_id }) };
  const answer = text && text.length <= 20_000 ? await api.call("POST", "/read", { json, limit: 6000 }).catch(() => null) : null;
  return list.map((c) => ({
    name: c.name,
    unit: c.unit,
    before: c.value,
    after: answer && sameIn(answer, c, numbers, reading, value),
  }));
}
