import { TAG } from '../../xml/site.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';
import { distinctOf } from './distinct.ts';
import type { FieldData } from './fields.ts';
import { mapLong } from './long-lists.ts';

/** A field's places; where they stand follows from the outline when it is first asked for. */
export class Places implements FieldData {
  readonly index: number;
  readonly steps: readonly string[];
  readonly template: string;
  readonly collection = -1;
  readonly shape: number;
  readonly at: readonly number[];
  readonly values: readonly string[];
  readonly rows: readonly number[];
  readonly rowShape: number;
  readonly several: boolean;
  readonly tag: boolean;
  readonly virtual: boolean;
  readonly aside: boolean;
  readonly distinct: readonly string[];
  readonly times: readonly number[];
  readonly which: readonly number[];
  readonly begins: readonly number[] | null;
  private kindList: readonly Kind[] | null = null;
  private nodeList: readonly number[] | null = null;
  private attrList: readonly number[] | null = null;
  private recordList: readonly number[] | null = null;

  constructor(
    private readonly outline: Outline,
    own: Omit<FieldData, 'template' | 'collection' | 'kinds' | 'nodes' | 'attrs' | 'records' | 'with'>,
  ) {
    this.index = own.index;
    this.steps = own.steps;
    this.template = `/${own.steps.join('/')}`;
    this.shape = own.shape;
    this.at = own.at;
    this.values = own.values;
    this.rows = own.rows;
    this.rowShape = own.rowShape;
    this.several = own.several;
    this.tag = own.tag;
    this.virtual = own.virtual;
    this.aside = own.aside;
    this.distinct = own.distinct;
    this.times = own.times;
    this.which = own.which;
    this.begins = own.begins;
  }

  get kinds(): readonly Kind[] {
    this.kindList ??= mapLong(this.distinct, kindOf);
    return this.kindList;
  }

  get nodes(): readonly number[] {
    const { element, node } = this.outline;
    const from = this.tag ? element : node;
    this.nodeList ??= mapLong(this.at, (at) => from[at]!);
    return this.nodeList;
  }

  get attrs(): readonly number[] {
    this.attrList ??= mapLong(this.at, (at) => (this.tag ? TAG : this.outline.attr[at]!));
    return this.attrList;
  }

  get records(): readonly number[] {
    this.recordList ??= mapLong(this.rows, (row) => (row === -1 ? -1 : this.outline.element[row]!));
    return this.recordList;
  }

  with(values: readonly string[]): Places {
    return new Places(this.outline, { ...this, values, ...distinctOf(values) });
  }
}
