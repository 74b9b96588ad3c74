"""A small feed as the GTFS Schedule reference describes it, file by file, and zips of it.

Two routes from the lake to the city: the bus at 16:00 on weekdays, one at 25:30 (so half past one of the next
day) on Saturdays, and a shared taxi by windows of hours. Written from memory of the reference.
"""

from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile

FILES = {
    "agency.txt": (
        "agency_id,agency_name,agency_url,agency_timezone,agency_lang\n"
        "lake,Lake Buses,https://example.org,Africa/Lusaka,en\n"
    ),
    "stops.txt": (
        "stop_id,stop_name,stop_lat,stop_lon,location_type,parent_station\n"
        "park,Lake Park,-8.76,31.11,1,\n"
        'bay1,"Bay 1, Lake Park",-8.761,31.111,0,park\n'
        "mid,Middle Town,-10.2,31.2,,\n"
        "city,City,-15.4,28.3,,\n"
    ),
    "routes.txt": (
        "route_id,agency_id,route_short_name,route_long_name,route_type\n"
        "bus,lake,B,Lake to City,3\n"
        "taxi,lake,,Shared taxi,3\n"
    ),
    "trips.txt": (
        "route_id,service_id,trip_id,direction_id\n"
        "bus,weekdays,b1,0\n"
        "bus,saturdays,b2,0\n"
        "taxi,weekdays,t1,0\n"
        "taxi,weekdays,t2,0\n"
    ),
    "stop_times.txt": (
        "trip_id,arrival_time,departure_time,stop_id,stop_sequence,pickup_type,timepoint\n"
        "b1,16:00:00,16:00:00,bay1,1,0,1\n"
        "b1,20:10:00,20:20:00,mid,5,0,0\n"
        "b1,27:00:00,27:00:00,city,9,1,1\n"
        "b2,25:30:00,25:30:00,bay1,1,,\n"
        "b2,36:00:00,36:00:00,city,2,,\n"
        "t1,00:00:00,00:00:00,bay1,1,,0\n"
        "t1,03:00:00,03:15:00,mid,2,,0\n"
        "t1,09:00:00,09:00:00,city,3,,0\n"
        "t2,06:00:00,06:00:00,bay1,1,,0\n"
        "t2,15:00:00,15:00:00,city,2,,0\n"
    ),
    "calendar.txt": (
        "service_id,monday,tuesday,wednesday,thursday,friday,saturday,sunday,start_date,end_date\n"
        "weekdays,1,1,1,1,1,0,0,20260302,20261231\n"
        "saturdays,0,0,0,0,0,1,0,20260302,20261231\n"
    ),
    "calendar_dates.txt": "service_id,date,exception_type\nweekdays,20260501,2\nweekdays,20260502,1\n",
    "frequencies.txt": (
        "trip_id,start_time,end_time,headway_secs,exact_times\n"
        "t1,08:00:00,10:00:00,1800,1\n"
        "t2,12:00:00,14:00:00,3600,0\n"
    ),
}


def zipped(files=None, **options):
    """The bytes of a zip of these files; a text is written as UTF-8."""
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED, **options) as feed:
        for name, content in (files or FILES).items():
            feed.writestr(name, content)
    return packed.getvalue()


def changed(name, before, after):
    """The files with one text of one of them replaced, which must be there."""
    assert before in FILES[name]
    return FILES | {name: FILES[name].replace(before, after, 1)}


def without(name):
    return {other: content for other, content in FILES.items() if other != name}
