/** What can happen, to whom, and what to do. The same on every verdict, because it holds for every pack. */
export function Cautions() {
  return (
    <section class="cautions">
      <h2>Cautions</h2>
      <div>
        <p class="caution stop">
          <b>Lithium packs can burn,</b> days after the damage, and breathe out gas that harms. If a pack
          swells, hisses, smells, or warms by itself: stop using and charging it, take it outside onto stone
          if that can be done without danger, keep people away, and call the fire service. Never press it
          flat, pierce it, or close a shell over it.
        </p>
        <p class="caution">
          <b>Before it is connected,</b> confirm polarity and the charge-limit voltage of pack and charger
          with a meter. A pack that came in swollen, dented or below its lowest voltage is not to be charged.
        </p>
        <p class="caution">
          <b>A metal shield</b> with a burr can cut a pouch, and one that touches a contact can short it.
          Deburr it, keep film between it and everything live, and leave the room that the cells need to
          swell.
        </p>
        <p class="caution">
          <b>These numbers hold</b> for this device, these probes and these conditions. The maker’s sheet,
          local codes and, where one is required, a licensed person come before them. A limit that holds here
          is no approval.
        </p>
      </div>
    </section>
  );
}
