/** A line for people. Standard output stays free for a script's result. */
export function say(line) {
  process.stderr.write(`${line}\n`);
}
