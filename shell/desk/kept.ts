/** A bounded memory: what was put or asked for longest ago goes first. */
export class Kept<Value> {
  private readonly values = new Map<string, Value>();
  private readonly most: number;

  /** @param most how many values stay, > 0 */
  constructor(most: number) {
    this.most = most;
  }

  /** How many values are kept now. */
  get size(): number {
    return this.values.size;
  }

  get(key: string): Value | undefined {
    const value = this.values.get(key);
    if (value !== undefined) this.put(key, value);
    return value;
  }

  put(key: string, value: Value): void {
    this.values.delete(key);
    this.values.set(key, value);
    const oldest = this.values.keys().next().value;
    if (this.values.size > this.most && oldest !== undefined) this.values.delete(oldest);
  }

  dropWhere(matches: (value: Value) => boolean): void {
    for (const [key, value] of this.values) if (matches(value)) this.values.delete(key);
  }
}
