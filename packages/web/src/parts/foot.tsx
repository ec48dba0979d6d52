/** What holds for every number of the page. */
export function Foot({ invented }: { readonly invented: boolean }) {
  return (
    <footer class="foot">
      {invented && <span>Invented example: the device, the pack and every reading are made up.</span>}
      <span>± is one standard uncertainty u. In plots the thick stroke is ± u, the thin one 95 %.</span>
      <span>
        Lithium packs can burn. Nothing here replaces the maker’s sheet, local codes or a licensed person
        where one is required.
      </span>
    </footer>
  );
}
