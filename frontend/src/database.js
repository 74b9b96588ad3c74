/** IndexedDB with promises, as far as the store needs it: one step after another, each answered once it is written. */

const asked = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

const NAMES = ['get', 'getAll', 'put', 'delete'];
const promised = (place) => Object.fromEntries(NAMES.map((name) => [name, (...given) => asked(place[name](...given))]));

/**
 * @typedef {Object} Database
 * @property {(place: string, mode: IDBTransactionMode, how?: IDBTransactionOptions) => {store: any, done: Promise<void>}} transaction
 * @property {(place: string, key: any) => Promise<any>} get
 * @property {(place: string) => Promise<any[]>} getAll
 * @property {(place: string, value: any, key?: any) => Promise<any>} put resolves once it is written
 * @property {(place: string, key: any) => Promise<void>} delete resolves once it is written
 * @property {(place: string, index: string, query?: any) => Promise<any[]>} getAllFromIndex
 * @property {(place: string, index: string, query?: any) => Promise<any[]>} getAllKeysFromIndex
 * @property {() => void} close
 */

/** @param {IDBDatabase} database @returns {Database} */
function wrapped(database) {
  const transaction = (place, mode, how) => {
    const step = database.transaction(place, mode, how);
    const done = new Promise((resolve, reject) => {
      step.oncomplete = () => resolve();
      step.onabort = step.onerror = () => reject(step.error);
    });
    // Whoever waits for one of its requests hears of the failure there.
    done.catch(() => {});
    return { store: promised(step.objectStore(place)), done };
  };
  const read = (place) => database.transaction(place).objectStore(place);
  const written = (name) => async (place, ...given) => {
    const { store, done } = transaction(place, 'readwrite');
    const found = await store[name](...given);
    await done;
    return found;
  };
  return {
    transaction,
    get: (place, key) => asked(read(place).get(key)),
    getAll: (place) => asked(read(place).getAll()),
    put: written('put'),
    delete: written('delete'),
    getAllFromIndex: (place, index, query) => asked(read(place).index(index).getAll(query)),
    getAllKeysFromIndex: (place, index, query) => asked(read(place).index(index).getAllKeys(query)),
    close: () => database.close(),
  };
}

/** @param {string} name @param {number} version @param {{upgrade: (database: IDBDatabase, from: number) => void, blocking: () => void}} act @returns {Promise<Database>} */
export async function openDatabaseOf(name, version, { upgrade, blocking }) {
  const request = indexedDB.open(name, version);
  request.onupgradeneeded = ({ oldVersion }) => upgrade(request.result, oldVersion);
  const database = await asked(request);
  database.onversionchange = blocking;
  return wrapped(database);
}
