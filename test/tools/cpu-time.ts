/** Milliseconds of processor time that the work takes: other programs on the machine do not count. */
export function cpuTime(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}
