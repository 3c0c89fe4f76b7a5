// Calls of the public API, and what may go wrong with one.

/** @typedef {import("./api_types.js").components["schemas"]["Problem"]} Problem */

const KEY = "mendgauge-key";

/** The service cannot be reached, or is too busy; `after` says in how many seconds it may be asked again. */
export class AwayError extends Error {
  /** @param {boolean} busy @param {number} [after] */
  constructor(busy, after) {
    super(busy ? "busy" : "away");
    this.busy = busy;
    this.after = after;
  }
}

/** The service asks for a key; `refused`: one was sent, and it is not good. */
export class KeyError extends Error {
  /** @param {boolean} refused */
  constructor(refused) {
    super("key");
    this.refused = refused;
  }
}

/** The service refused what it was asked, and says why. */
export class RefusedError extends Error {
  /** @param {Problem} problem */
  constructor(problem) {
    super(problem.title);
    this.problem = problem;
  }
}

/** Keep a key in this tab alone. @param {string} key */
export const keepKey = (key) => sessionStorage.setItem(KEY, key);

/** Return the answer to a request. Throw one of the above where there is none.
 * @param {string} path @param {{body?: unknown, signal?: AbortSignal, accept?: string}} [with_] */
export async function call(path, { body, signal, accept = "application/json" } = {}) {
  /** @type {Record<string, string>} */
  const headers = { Accept: accept };
  const key = sessionStorage.getItem(KEY);
  if (key) headers.Authorization = `Bearer ${key}`;
  if (body !== undefined) headers["Content-Type"] = "application/json";
  /** @type {Response} */
  let response;
  try {
    response = await fetch(path, {
      method: body === undefined ? "GET" : "POST",
      headers,
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      ...(signal ? { signal } : {}),
    });
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new AwayError(false);
  }
  if (response.ok) return response;
  if (response.status === 401) throw new KeyError(Boolean(key));
  if ([429, 502, 503, 504].includes(response.status)) {
    throw new AwayError(true, Number(response.headers.get("Retry-After")) || undefined);
  }
  throw new RefusedError(await problemOf(response));
}

/** @param {Response} response @returns {Promise<Problem>} */
async function problemOf(response) {
  try {
    return await response.json();
  } catch {
    return /** @type {Problem} */ ({ type: "about:blank", title: response.statusText, status: response.status });
  }
}

/** Return the JSON of an answer. @param {string} path @param {unknown} [body] @param {AbortSignal} [signal]
 * @returns {Promise<any>} */
export async function json(path, body, signal) {
  const response = await call(path, { ...(body === undefined ? {} : { body }), ...(signal ? { signal } : {}) });
  return response.json();
}
