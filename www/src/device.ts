// Texts that are kept on this device, by the place they belong to. Storage may be denied, full or absent;
// then nothing is kept, and the page works on without it.

const HOME = "meltmargin/";

/** What is kept; a later part of the page that keeps something adds its place here. */
export const PLACES = [
  "bench",
  "shelf",
  "own",
  "own-draft",
  "preferences",
  "notebook",
  "notebook-draft",
  "aside",
] as const;
export type Place = (typeof PLACES)[number];

/**
 * What a tab notes for itself: what it put on the bench last, the links that its address has held, a text that was pasted, an entry of
 * the notebook that is begun here while another tab has begun another.
 */
export type Note = "bench" | "addresses" | "pasted" | "notebook-draft";

/** Where the first version of the page kept the same. */
const FIRST: Partial<Record<Place, string>> = {
  bench: "meltmargin.bench",
  shelf: "meltmargin.shelf",
  own: "meltmargin.own",
  "own-draft": "meltmargin.own-draft",
};

function read(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function remove(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // Nothing is kept where nothing can be removed.
  }
}

export const device = {
  read: (place: Place): string | null => read(HOME + place),

  /** Whether it is kept now. */
  write(place: Place, text: string): boolean {
    try {
      localStorage.setItem(HOME + place, text);
      return true;
    } catch {
      return false;
    }
  },

  remove: (place: Place): void => remove(HOME + place),

  /** What the first version of the page kept in this place, if it is still there. */
  readFirst(place: Place): string | null {
    const key = FIRST[place];
    return key ? read(key) : null;
  },

  removeFirst(place: Place): void {
    const key = FIRST[place];
    if (key) remove(key);
  },

  /** What this tab noted for itself: it outlives a reload, and no other tab sees it. */
  noted(what: Note): string | null {
    try {
      return sessionStorage.getItem(HOME + what);
    } catch {
      return null;
    }
  },

  note(what: Note, text: string): void {
    try {
      sessionStorage.setItem(HOME + what, text);
    } catch {
      // Then a reload goes by the address alone.
    }
  },

  forget(what: Note): void {
    try {
      sessionStorage.removeItem(HOME + what);
    } catch {
      // Nothing is noted where nothing can be removed.
    }
  },

  /** Tells of what another tab of this page keeps or removes. */
  hear(listener: (place: Place, text: string | null) => void): void {
    addEventListener("storage", ({ key, newValue }) => {
      const place = PLACES.find((one) => HOME + one === key);
      if (place) listener(place, newValue);
    });
  },

  /** Asks the browser not to clear what is kept when room is short. It may refuse; then nothing changes. */
  async persist(): Promise<void> {
    try {
      if (!(await navigator.storage?.persisted?.())) await navigator.storage?.persist?.();
    } catch {
      // As with a refusal.
    }
  },
};
