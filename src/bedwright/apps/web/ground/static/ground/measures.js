// Lengths in the garden's units: shown, and read as people write them.

const M_PER_FOOT = 0.3048;

export class Measures {
  constructor(units, language) {
    this.us = units === "us";
    this.unit = this.us ? "ft" : "m";
    this.per_m = this.us ? 1 / M_PER_FOOT : 1;
    this.step_m = this.us ? M_PER_FOOT / 4 : 0.1;
    this.bigStep_m = this.us ? M_PER_FOOT : 1;
    this.format = (digits) => new Intl.NumberFormat(language, { maximumFractionDigits: digits, useGrouping: false });
    this.exact = this.format(3);
    this.plain = this.format(2);
    this.tenth = new Intl.NumberFormat(language, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
  }

  /** For a field: without its unit. */
  inField(length_m) {
    return length_m === undefined || length_m === null ? "" : this.exact.format(Number((length_m * this.per_m).toFixed(3)));
  }

  /** For reading: with its unit. */
  words(length_m) {
    return `${this.plain.format(length_m * this.per_m)}\u00a0${this.unit}`;
  }

  number(value) {
    return value === undefined || value === null ? "" : this.exact.format(value);
  }

  hours(value) {
    return this.tenth.format(value);
  }

  /** Metres that a text means; null if it means none. Feet and inches may be written out. */
  length(text) {
    const clean = text.trim().replace(/[\u2032\u2019]/g, "'").replace(/[\u2033\u201d]/g, '"');
    if (this.us) {
      const parts = /^(-)?(?:(\d+(?:[.,]\d+)?)\s*(?:'|ft)\s*)(?:(\d+(?:[.,]\d+)?)\s*(?:"|in)?)?$/.exec(clean);
      if (parts) {
        const feet = plainNumber(parts[2]) + (parts[3] ? plainNumber(parts[3]) / 12 : 0);
        return tidy((parts[1] ? -feet : feet) * M_PER_FOOT);
      }
      const inches = /^(-?\d+(?:[.,]\d+)?)\s*(?:"|in)$/.exec(clean);
      if (inches) return tidy((plainNumber(inches[1]) / 12) * M_PER_FOOT);
    }
    const centimetres = /^(-?\d+(?:[.,]\d+)?)\s*cm$/.exec(clean);
    if (centimetres) return tidy(plainNumber(centimetres[1]) / 100);
    const value = plainNumber(clean.replace(/\s*(m|ft)$/, ""));
    return value === null ? null : tidy(value / this.per_m);
  }
}

const tidy = (value) => Math.round(value * 1e6) / 1e6;

/** A number written with a point or a comma; null for anything else. */
export function plainNumber(text) {
  const clean = text.trim().replace("\u2212", "-").replace(",", ".");
  return /^-?(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : null;
}
