// What this phone keeps: lines that wait, photographs, and the last data of the server.
// IndexedDB, one database a garden; a line is on the disk before anything says so.

export class FullError extends Error {}

export async function openStore(garden) {
  const database = await new Promise((resolve, reject) => {
    const request = indexedDB.open(`bedwright-field-${garden}`, 1);
    request.onupgradeneeded = () => {
      // The key counts up on this phone whatever its clock does, also across restarts.
      request.result.createObjectStore("lines", { keyPath: "count", autoIncrement: true });
      request.result.createObjectStore("photos", { keyPath: "id" });
      request.result.createObjectStore("kept", { keyPath: "key" });
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("blocked"));
  });
  return new Store(database);
}

class Store {
  constructor(database) {
    this.database = database;
  }

  // Runs some work in one transaction; resolves once it is on the disk.
  run(stores, mode, work) {
    return new Promise((resolve, reject) => {
      let outcome;
      let transaction;
      try {
        transaction = this.database.transaction(stores, mode, { durability: "strict" });
        transaction.oncomplete = () => resolve(outcome);
        transaction.onabort = () => reject(fault(transaction.error));
        transaction.onerror = () => undefined;
        work(transaction, (value) => { outcome = value; });
      } catch (error) {
        try { transaction?.abort(); } catch { /* it has ended already */ }
        reject(fault(error));
      }
    });
  }

  // A line with its photographs, all or nothing.
  add(line, photos = []) {
    return this.run(["lines", "photos"], "readwrite", (transaction, give) => {
      const request = transaction.objectStore("lines").add({ line, state: "waiting", problems: [] });
      request.onsuccess = () => give(request.result);
      for (const photo of photos) transaction.objectStore("photos").add({ ...photo, state: "waiting" });
    });
  }

  lines() {
    return this.all("lines");
  }

  photos() {
    return this.all("photos");
  }

  all(name) {
    return this.run([name], "readonly", (transaction, give) => {
      const request = transaction.objectStore(name).getAll();
      request.onsuccess = () => give(request.result);
    });
  }

  put(name, record) {
    return this.run([name], "readwrite", (transaction) => { transaction.objectStore(name).put(record); });
  }

  remove(name, keys) {
    return this.run([name], "readwrite", (transaction) => {
      for (const key of keys) transaction.objectStore(name).delete(key);
    });
  }

  async get(key) {
    const record = await this.run(["kept"], "readonly", (transaction, give) => {
      const request = transaction.objectStore("kept").get(key);
      request.onsuccess = () => give(request.result);
    });
    return record?.value ?? null;
  }

  set(key, value) {
    return this.put("kept", { key, value });
  }
}

function fault(error) {
  if (error?.name === "QuotaExceededError") return new FullError(error.message);
  return error ?? new Error("the transaction was ended");
}

export function newId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}
