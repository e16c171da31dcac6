import { hashOf } from '../text/hash.ts';

/** One change: the units [start, end) of the original text become `text`. `owner` is the decision that made it. */
export interface Patch {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly owner: string;
}

/** Two patches that want the same units, or a span that the text does not have: a fault in our code, so it throws. */
export class PatchError extends Error {
  constructor(
    message: string,
    readonly owners: readonly string[],
  ) {
    super(message);
    this.name = 'PatchError';
  }
}

/**
 * Changes to one text, sorted and free of overlap, bound to it by length and hash. Offsets refer to the original text,
 * whatever else changes. Laws: an empty set applies to the same text; `set.invert().apply(set.apply(text)) === text`.
 */
export class PatchSet {
  private constructor(
    readonly patches: readonly Patch[],
    private readonly source: string,
    private readonly hash: () => string,
  ) {}

  /** @throws PatchError where a span is not in the text, or two patches overlap; it names both owners. */
  static of(source: string, patches: Iterable<Patch>): PatchSet {
    const sorted = [...patches].sort((a, b) => a.start - b.start || a.end - b.end);
    let before: Patch | null = null;
    for (const patch of sorted) {
      const { start, end } = patch;
      if (!Number.isInteger(start) || !Number.isInteger(end) || start < 0 || end < start || end > source.length) {
        throw new PatchError(`${patch.owner}: [${start}, ${end}) is no span of ${source.length} units`, [patch.owner]);
      }
      if (before && (start < before.end || (start === before.start && end === before.end))) {
        throw new PatchError(
          `${before.owner} changes [${before.start}, ${before.end}) and ${patch.owner} changes [${start}, ${end})`,
          [before.owner, patch.owner],
        );
      }
      before = patch;
    }
    let hash: string | null = null;
    return new PatchSet(sorted, source, () => {
      hash ??= hashOf(source);
      return hash;
    });
  }

  /** @throws PatchError for a text other than the one the set was made for. */
  apply(text: string = this.source): string {
    if (text !== this.source && (text.length !== this.source.length || hashOf(text) !== this.hash())) {
      throw new PatchError('these changes were made for another text', []);
    }
    const parts: string[] = [];
    let at = 0;
    for (const patch of this.patches) {
      parts.push(text.slice(at, patch.start), patch.text);
      at = patch.end;
    }
    parts.push(text.slice(at));
    return parts.join('');
  }

  /** The patches that lie in the units [start, end) of the original text. */
  within(start: number, end: number): readonly Patch[] {
    let low = 0;
    let high = this.patches.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.patches[middle]!.start < start) low = middle + 1;
      else high = middle;
    }
    let stop = low;
    while (stop < this.patches.length && this.patches[stop]!.end <= end) stop++;
    return this.patches.slice(low, stop);
  }

  /** The patches that change anything in [start, end), those included that reach over either end. */
  touching(start: number, end: number): readonly Patch[] {
    let low = 0;
    let high = this.patches.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.patches[middle]!.end <= start) low = middle + 1;
      else high = middle;
    }
    let stop = low;
    while (stop < this.patches.length && this.patches[stop]!.start < end) stop++;
    return this.patches.slice(low, stop);
  }

  /** The set that turns the result back into the original text. Changes that touch come back as one. */
  invert(): PatchSet {
    let shift = 0;
    const back: Patch[] = [];
    for (const patch of this.patches) {
      const start = patch.start + shift;
      const end = start + patch.text.length;
      const text = this.source.slice(patch.start, patch.end);
      const before = back.at(-1);
      if (before && before.end === start) {
        back[back.length - 1] = { start: before.start, end, text: before.text + text, owner: before.owner };
      } else back.push({ start, end, text, owner: patch.owner });
      shift += patch.text.length - (patch.end - patch.start);
    }
    return PatchSet.of(this.apply(), back);
  }

  /**
   * Where an offset of the original text is in the result. Inside a changed span it goes to the span's start or, with
   * `after`, to its end; an insertion at the offset itself is behind it unless `after` is set.
   */
  map(offset: number, after = false): number {
    let shift = 0;
    for (const patch of this.patches) {
      if (patch.start > offset || (patch.start === offset && !after && patch.end === patch.start)) break;
      if (patch.end > offset) return patch.start + shift + (after ? patch.text.length : 0);
      shift += patch.text.length - (patch.end - patch.start);
    }
    return offset + shift;
  }
}
