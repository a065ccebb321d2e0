"""What a story reads in a phone's page: scripts that ask the app's own store and look-ups."""

IS_KEPT = """async () => {
  await navigator.serviceWorker.ready;
  if (navigator.serviceWorker.controller) return;
  await new Promise((done) => navigator.serviceWorker.addEventListener('controllerchange', done, { once: true }));
}"""
# A step is shown once it is kept: what the page had written before this reading is on its screen after it.
SETTLED = """async () => {
  window.halfturnName ??= (await indexedDB.databases())[0].name;
  await new Promise((done) => {
    indexedDB.open(window.halfturnName).onsuccess = ({ target: { result: db } }) => {
      const reading = db.transaction('run').objectStore('run').get('run');
      reading.onsuccess = () => { db.close(); const { port1, port2 } = new MessageChannel(); port1.onmessage = done; port2.postMessage(0); };
    };
  });
}"""
# The app's own store, opened in the page itself; what follows reads it.
STORE = """async () => {
  const { createClock, createStore } = halfturnModules;
  const store = createStore(createClock(), () => {});
"""
# The app's own look-up: where each arm stands by what this phone holds.
STANDING = f"""{STORE}
  const {{ bundle, days }} = await store.snapshot();
  const of = (name, {{ row }}) => bundle.almanac[name][row];
  return Object.fromEntries(days.map(({{ arm, position, dose, why, responseYesterday }}) => [arm, {{
    rung: of('rung', position), ease: of('ease', position), mode: of('mode', position),
    settled_streak: of('streak', position), gap_days: position.gapDays, work_j: dose.work_j, sessions: dose.sessions, why, response: responseYesterday,
  }}]));
}}"""
# What is in the phone's log, and whether each entry has been sent.
LOG = f"""{STORE}
  const [rows, unsent] = [await store.events(), await store.unsent()];
  return {{ ids: rows.map(({{ id }}) => id), kinds: rows.map(({{ kind }}) => kind), unsent: unsent.length }};
}}"""
# The run that is kept: what the session that is on is made of, and how far it has come.
RUN = f"{STORE} return store.loadRun(); }}"
# Every entry of the phone's log, whole.
EVENTS = f"{STORE} return store.events(); }}"
