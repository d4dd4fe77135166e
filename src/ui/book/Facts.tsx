/** The facts of a station, in rows. */
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isLimitGuessed } from '../../core/records/guesses.ts'
import { locatorFromPlace } from '../../core/records/locator.ts'
import { countOf, fixed, latitude, longitude, NBSP } from '../kit/format.ts'
import { Name, Row, Rows, Text } from '../kit/numbers.tsx'
import { axisName, keptReading, MOUNT_WORDS } from '../kit/phrases.ts'
import { READOUT_WORDS } from '../kit/readoutwords.ts'

export function Facts({ station }: { station: StationRecord }) {
  const { site, dish, feeds, mount } = station
  const limits = (axis: 'lower' | 'upper') => {
    const { minReading, maxReading } = mount[axis]
    if (isLimitGuessed(station, axis)) return 'stops not known'
    return `${keptReading(mount, axis, minReading).replace(`${NBSP}counts`, '')} to ${keptReading(mount, axis, maxReading)}`
  }
  return (
    <>
      {station.notes && (
        <Text quiet>
          <Name>{station.notes.length > 400 ? `${[...station.notes].slice(0, 400).join('')}…` : station.notes}</Name>
        </Text>
      )}
      <Rows>
        <Row
          label="Place"
          note={`${fixed(site.heightM, 0)}${NBSP}m high, locator ${locatorFromPlace(site.latDeg, site.lonDeg)}`}
        >
          {latitude(site.latDeg, 4)}, {longitude(site.lonDeg, 4)}
        </Row>
        <Row label="Dish">
          {fixed(dish.diameterM, 2)}
          {NBSP}m, f/D {fixed(dish.focalRatio, 2)}
        </Row>
        {feeds.map(feed => (
          <Row key={feed.id} label={<Name>{feed.name}</Name>}>
            {fixed(feed.frequencyMHz, Number.isInteger(feed.frequencyMHz) ? 0 : 1)}
            {NBSP}MHz
          </Row>
        ))}
        <Row label="Mount">{MOUNT_WORDS[mount.kind]}</Row>
        {AXES.map(axis => (
          <Row
            key={axis}
            label={`${axis === 'lower' ? 'Lower' : 'Upper'} axis, ${axisName(mount, axis)}`}
            note={READOUT_WORDS[mount[axis].readout.type].word}
          >
            {limits(axis)}
          </Row>
        ))}
        <Row label="Records">{countOf(station.sightings.length, 'sighting')}</Row>
      </Rows>
    </>
  )
}
