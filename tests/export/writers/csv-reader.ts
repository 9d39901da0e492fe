/**
 * A reader of CSV written from the grammar of RFC 4180, section 2, for the tests alone: records end with CR LF, a field in
 * quotes may hold commas, line ends and doubled quotes. Throws where the text does not follow the grammar.
 */
export function readRfc4180(text: string): string[][] {
  const records: string[][] = [];
  let at = 0;
  while (at < text.length) {
    const record: string[] = [];
    for (;;) {
      let field = '';
      if (text[at] === '"') {
        at += 1;
        for (;;) {
          if (at >= text.length) throw new Error('a quoted field does not end');
          if (text[at] === '"' && text[at + 1] === '"') {
            field += '"';
            at += 2;
          } else if (text[at] === '"') {
            at += 1;
            break;
          } else {
            field += text[at] ?? '';
            at += 1;
          }
        }
      } else {
        while (at < text.length && text[at] !== ',' && text[at] !== '\r') {
          if (text[at] === '"' || text[at] === '\n') throw new Error(`a bare quote or line feed at ${at}`);
          field += text[at] ?? '';
          at += 1;
        }
      }
      record.push(field);
      if (text[at] === ',') {
        at += 1;
        continue;
      }
      if (text.startsWith('\r\n', at)) {
        at += 2;
        break;
      }
      throw new Error(`neither a comma nor CR LF at ${at}`);
    }
    records.push(record);
  }
  return records;
}
