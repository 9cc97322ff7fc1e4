/** A script of ours as text: the build puts it there. */
declare module '*?text' {
  const text: string;
  export default text;
}
