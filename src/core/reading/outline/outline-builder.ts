/** Grows the arrays of an outline; see outline.ts for what they hold. */
export class Builder {
  readonly labels: string[] = [];
  size = 0;
  private readonly labelIndex = new Map<string, number>();
  readonly label: Int32Array;
  readonly parent: Int32Array;
  readonly after: Int32Array;
  readonly element: Int32Array;
  readonly node: Int32Array;
  readonly attr: Int32Array;
  readonly value: Int32Array;
  readonly part: Uint8Array;
  /** Where values begin that are a part of the text at their site. */
  readonly begins = new Map<number, number>();

  constructor(capacity: number) {
    this.label = new Int32Array(capacity);
    this.parent = new Int32Array(capacity);
    this.after = new Int32Array(capacity);
    this.element = new Int32Array(capacity);
    this.node = new Int32Array(capacity);
    this.attr = new Int32Array(capacity);
    this.value = new Int32Array(capacity);
    this.part = new Uint8Array(capacity);
  }

  add(label: number, parent: number, element: number, node: number, attr: number, value: number): number {
    const at = this.size++;
    this.label[at] = label;
    this.parent[at] = parent;
    this.element[at] = element;
    this.node[at] = node;
    this.attr[at] = attr;
    this.value[at] = value;
    return at;
  }

  labelOf(name: string): number {
    let index = this.labelIndex.get(name);
    if (index === undefined) {
      index = this.labels.push(name) - 1;
      this.labelIndex.set(name, index);
    }
    return index;
  }

  /** The arrays at their length, with the end of each node. */
  finish() {
    const { labels, size, after, parent, begins } = this;
    for (let at = size - 1; at >= 0; at--) {
      if (after[at]! <= at) after[at] = at + 1;
      const above = parent[at]!;
      if (above !== -1 && after[above]! < after[at]!) after[above] = after[at]!;
    }
    return {
      labels,
      size,
      begins,
      label: this.label.subarray(0, size),
      parent: parent.subarray(0, size),
      after: after.subarray(0, size),
      element: this.element.subarray(0, size),
      node: this.node.subarray(0, size),
      attr: this.attr.subarray(0, size),
      value: this.value.subarray(0, size),
      part: this.part.subarray(0, size),
    };
  }
}
