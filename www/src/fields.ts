// What a text turns out to hold that was kept or saved as JSON, before anything of it is believed.

export type Fields = Record<string, unknown>;

export const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);
