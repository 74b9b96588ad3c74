from django.contrib import admin
from django.urls import include, path

from api import quote_page
from api.calendar_feed import CalendarFeed

urlpatterns = [
    path("api/v1/", include("api.urls")),
    path("admin/", admin.site.urls),
    path("calendar/<str:secret>.ics", CalendarFeed.as_view()),
    path("q/<str:secret>/", quote_page.page),
    path("q/<str:secret>/accept/", quote_page.accept),
    path("q/<str:secret>/ask/", quote_page.question),
    path("q/<str:secret>/decline/", quote_page.decline),
]

handler400 = "api.errors.bad_request"
handler403 = "api.errors.forbidden"
handler404 = "api.errors.nowhere"
handler500 = "api.errors.fault"
