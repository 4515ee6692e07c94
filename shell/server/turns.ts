/** Lets changes of one thing happen one after the other: each reads what the one before wrote. */
export class Turns {
  private readonly last = new Map<string, Promise<unknown>>();

  /** Runs `change` when every earlier one of the same name has ended, however it ended. */
  take<Value>(name: string, change: () => Promise<Value>): Promise<Value> {
    const before = this.last.get(name) ?? Promise.resolve();
    const mine = before.then(change, change);
    this.last.set(name, mine);
    const forget = () => {
      if (this.last.get(name) === mine) this.last.delete(name);
    };
    mine.then(forget, forget);
    return mine;
  }
}
