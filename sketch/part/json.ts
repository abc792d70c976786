/** Where and why a text is not sound JSON. Lines and columns count from 1. */
export interface JsonFault {
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

/** Deeper nesting than this is refused, so that hostile files cannot exhaust the stack. */
const DEEPEST = 64;

/**
 * The first fault in a JSON text (RFC 8259), or null when it is sound.
 *
 * `JSON.parse` reads the file; this says where it went wrong, in the same words in every browser, and also refuses
 * what `JSON.parse` passes over in silence: a key that stands twice in one object, and very deep nesting.
 */
export const jsonFault = (text: string): JsonFault | null => {
  const fault = new Scanner(text).run();
  if (fault === null) return null;
  const before = text.slice(0, fault.at).split(/\r\n?|\n/);
  return { line: before.length, column: (before.at(-1) ?? '').length + 1, message: fault.message };
};

class Fault extends Error {
  readonly at: number;
  constructor(at: number, message: string) {
    super(message);
    this.at = at;
  }
}

class Scanner {
  private at = 0;
  private readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  run(): Fault | null {
    try {
      this.value(0);
      this.space();
      if (this.at < this.text.length) this.fail(`${this.here()} after the end of the document`);
      return null;
    } catch (fault) {
      if (fault instanceof Fault) return fault;
      throw fault;
    }
  }

  private fail(message: string, at = this.at): never {
    throw new Fault(at, message);
  }

  private here(): string {
    const c = this.text[this.at];
    return c === undefined ? 'the text ends' : `unexpected ${JSON.stringify(c)}`;
  }

  private space(): void {
    while (' \t\n\r'.includes(this.text[this.at] ?? '?')) this.at++;
  }

  private value(depth: number): void {
    if (depth > DEEPEST) this.fail(`nested more than ${DEEPEST} deep`);
    this.space();
    const c = this.text[this.at];
    if (c === '{') this.object(depth);
    else if (c === '[') this.array(depth);
    else if (c === '"') this.string();
    else this.scalar();
  }

  private object(depth: number): void {
    const keys = new Set<string>();
    this.at++;
    this.space();
    if (this.take('}')) return;
    for (;;) {
      this.space();
      const start = this.at;
      if (this.text[start] !== '"') this.fail(`${this.here()} where a key in double quotes should stand`);
      const key = this.string();
      if (keys.has(key)) this.fail(`the key ${JSON.stringify(key)} stands twice in one object`, start);
      keys.add(key);
      this.space();
      if (!this.take(':'))
        this.fail(`${this.here()} where a colon should follow the key ${JSON.stringify(key)}`);
      this.value(depth + 1);
      this.space();
      if (this.take('}')) return;
      if (!this.take(',')) this.fail(`${this.here()} where a comma or "}" should stand`);
    }
  }

  private array(depth: number): void {
    this.at++;
    this.space();
    if (this.take(']')) return;
    for (;;) {
      this.value(depth + 1);
      this.space();
      if (this.take(']')) return;
      if (!this.take(',')) this.fail(`${this.here()} where a comma or "]" should stand`);
    }
  }

  private take(c: string): boolean {
    if (this.text[this.at] !== c) return false;
    this.at++;
    return true;
  }

  private string(): string {
    const start = this.at++;
    for (;;) {
      const c = this.text[this.at];
      if (c === undefined) this.fail('a text in quotes is not closed', start);
      if (c < ' ') this.fail('a line break or control character stands inside a text in quotes');
      this.at++;
      if (c === '"') break;
      if (c !== '\\') continue;
      const escaped = /^(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/.exec(this.text.slice(this.at, this.at + 5));
      if (escaped === null) this.fail('an unknown escape after a backslash');
      this.at += escaped[0].length;
    }
    return JSON.parse(this.text.slice(start, this.at)) as string;
  }

  private scalar(): void {
    const token = /^(?:true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?)/.exec(
      this.text.slice(this.at, this.at + 400),
    );
    if (token === null) this.fail(`${this.here()} where a value should stand`);
    this.at += token[0].length;
  }
}
